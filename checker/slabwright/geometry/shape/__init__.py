"""Outlines and what is wrong with them, edges, sides, arcs, crossings of lines, heights along a rim, distances."""
