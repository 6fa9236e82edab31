"""Rules about what keeps the slab apart from fixed things."""
