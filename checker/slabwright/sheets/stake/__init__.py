"""The stake sheet: where the pins go, what the rod reads on each, squaring, and readings taken back from the field."""
