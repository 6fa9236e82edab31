"""What a drawing of a plan or a section needs, as plain data in meters."""
