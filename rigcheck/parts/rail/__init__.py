"""The rail: stress, strength, seams, side walls, roll of the box."""
