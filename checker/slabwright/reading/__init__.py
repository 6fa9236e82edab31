"""From the text of a design file to a frozen, typed design, with the place of every value kept."""
