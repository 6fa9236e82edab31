"""Rules about joints: spacing, depth, ends, timing."""
