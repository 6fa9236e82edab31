"""Outlines, edges, arcs and distances."""
