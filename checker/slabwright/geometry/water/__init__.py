"""Where water stands on a surface, and which way it leaves."""
