"""The command line: what is asked, which files, and where each part of the answer goes."""
