"""Faceted height surfaces: triangles, folds, falls, depths between two of them."""
