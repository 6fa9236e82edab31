"""Sentences and arithmetic as data, a sheet set in columns, JSON values, outputs kept whole."""
