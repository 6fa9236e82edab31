"""Rules about heights: doors, steps, drops, ways, grades."""
