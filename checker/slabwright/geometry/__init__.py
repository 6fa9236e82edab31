"""Plain coordinates in, plain coordinates out: outline, panels, edges, surfaces, water and thickness, in meters."""

from __future__ import annotations


class GeometryError(ValueError):
    """Geometry was asked for something that its own checks should have kept away: a fault of the caller, in words."""
