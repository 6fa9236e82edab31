"""Rules about reinforcement."""
