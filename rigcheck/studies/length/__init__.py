"""One variable from end to end of its range."""
