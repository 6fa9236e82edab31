"""The data of a drawing as lines and words on a sheet, to scale."""
