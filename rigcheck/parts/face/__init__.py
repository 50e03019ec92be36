"""Faces of tubes under what is welded to them."""
