"""Sheets people work from: what to order, where to set the stakes, and the card for the day of the pour."""
