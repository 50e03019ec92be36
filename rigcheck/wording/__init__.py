"""How states, bounds and numbers read, the same on every page."""
