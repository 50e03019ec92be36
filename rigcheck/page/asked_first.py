"""The first questions of a blank rig, in the order of the job."""

from __future__ import annotations

FIRST = (
    "title",
    "box.length", "box.width", "box.side_height", "box.pitch", "box.sheet",
    "hinge.spacing", "hinge.above_ground",
    "perch.height", "perch.downstream", "perch.spacing",
    "hanger.at", "hanger.height", "hanger.spacing",
    "line.link[1].kind", "line.link[1].wll",
    "water.flow", "bed.depth",
)  # fmt: skip
"""Box, hinge, perches, lines, water: the rest is asked by the list of what is not assessed."""
FIRST_ROWS = {"line.link": (0,)}
"""Rows that a blank rig begins with, so that there is a field to fill."""
