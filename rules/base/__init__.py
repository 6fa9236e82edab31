"""Rules about the base: its thickness, fill, even ground, the sheet under floors."""
