"""Rules about water: falls, low spots, outlets."""
