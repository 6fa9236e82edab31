"""The words a rule is written in, limits in layers, sources, loading and refusing rule files."""
