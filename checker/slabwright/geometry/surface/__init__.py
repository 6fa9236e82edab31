"""Faceted height surfaces: triangles, folds, falls, waves, what a shot stands for, cut, fill and depth between two."""
