"""Amounts, the trade's grammar for them, pint behind it, and how amounts are shown."""
