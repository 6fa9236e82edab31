"""Writers turn a finished report into something to read; each reads only the report."""
