"""The stake sheet: where the pins go and what the rod reads on each."""
