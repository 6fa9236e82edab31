"""Plain coordinates in, plain coordinates out: outline, panels, edges, surfaces, water and thickness, in metres."""
