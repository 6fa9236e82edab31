"""Rules about thickness and what it carries."""
