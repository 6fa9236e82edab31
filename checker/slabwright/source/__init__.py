"""A text file to a tree with the place of every key and value; what is wrong, told together."""
