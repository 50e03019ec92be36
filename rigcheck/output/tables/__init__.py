"""The published tables as a screen."""
