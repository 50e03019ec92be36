"""What people and machines read of a result: one plain dict, and text made from it alone."""
