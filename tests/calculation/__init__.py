"""The worked calculation."""
