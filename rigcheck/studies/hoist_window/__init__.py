"""The window of a hoist."""
