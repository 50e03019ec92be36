"""Joints between the stretches of a box, and the members where its sides turn."""
