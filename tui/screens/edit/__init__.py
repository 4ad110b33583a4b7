"""A song's own file, written by hand."""
