"""Rules about the day of the pour."""
