"""The published rules, one file each; they are found and loaded by path, never imported from here."""
