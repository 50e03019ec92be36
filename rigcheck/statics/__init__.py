"""Geometry of fold and lines, balance of hinge and lines, forces and deflection of the rail, posts."""
