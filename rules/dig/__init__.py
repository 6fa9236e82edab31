"""Rules about digging and hauling."""
