"""The card for the morning of the pour."""
