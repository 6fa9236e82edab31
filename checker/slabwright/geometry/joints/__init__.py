"""Joints as they lie in the slab, and the panels between them."""
