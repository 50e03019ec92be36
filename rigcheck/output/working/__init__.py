"""The worked calculation as a screen and as a page."""
