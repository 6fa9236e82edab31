"""From the tree of a design file to a frozen, typed design: schema gate, model, points, shots, starter."""
