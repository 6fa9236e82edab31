"""Rules about the order: volume, loads, reach."""
