"""Tests; each folder mirrors a room of the package."""
