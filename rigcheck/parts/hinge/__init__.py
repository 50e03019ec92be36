"""The hinge: pin, barrel, its weld and the tube under it."""
