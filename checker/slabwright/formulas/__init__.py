"""Cited formulas: pure functions in SI units, each with its source and its range of validity."""
