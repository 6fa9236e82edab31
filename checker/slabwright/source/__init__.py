"""A text file to a tree with the place of every key and value; edits by path; what is wrong, told together."""
