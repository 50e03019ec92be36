"""A rig on a center pivot, described in full, for tests that need one to change."""

from tests.parts.test_ears import EARS

HINGE = """\
[hinge]
kind = "center pivot"
height = "-1 1/2 in"
spacing = "7 in"
pin = "1 1/2 in"
pin_steel = "1018 cold drawn"
barrel_on = "nose"
pin_retained = true
above_ground = "34 in"

[hinge.ear]
plate = "5/8 in"
hole = "1 9/16 in"
edge = "2 in"
width = "4 in"
stand_off = "2 in"
weld = "5/16 in"
weld_length = "3 in"
steel = "A36"

[hinge.plant_ear]
plate = "2 in"
hole = "1 9/16 in"
edge = "2 1/2 in"
width = "5 in"
foot = "7 in"
stand_off = "2 1/2 in"
weld = "1/2 in"
weld_length = "7 in"
steel = "A36"

"""
PIVOT = EARS[: EARS.index("[hinge]")] + HINGE + EARS[EARS.index("[hanger]") :]


def changed(*pairs: tuple[str, str]) -> str:
    """Its text with other words in it."""
    text = PIVOT
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text
