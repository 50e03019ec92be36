"""A tail leg or a second pair of lines."""
