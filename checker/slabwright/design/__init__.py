"""From the tree of a design file to a frozen, typed design: schema gate, words, model, points, shots, starter."""
