"""Rules about the concrete as ordered."""
