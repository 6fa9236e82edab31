"""The words a rule is written in, remedies as edits, limits in layers, sources, loading and refusing rule files."""
