"""Rigs for the tests of studies: one with every part described and nothing over, and what can be done to it."""

import numpy as np

from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig

SOUND = """
title = "Sallow Bend, test rig"
[box]
length = "7 ft 5 in"
width = "23 in"
side_height = "6 in"
pitch = "1 3/8 in/ft"
sheet = "10 ga"
[rail]
stiffener = "HSS2x2x3/16"
effective_floor_width = "2 in"
[cross_member]
shape = "HSS2x2x3/16"
spacing = "10 in"
weld = "3/16 in"
weld_length = "6 in"
[[fitting]]
name = "tail lip"
weight = "17 lb"
at = "7 ft 3 in"
[hinge]
spacing = "21 in"
barrels = 5
barrel_length = "1 1/2 in"
pin = "1 1/4 in"
barrel_wall = "5/16 in"
weld = "1/4 in"
weld_length = "3 in"
barrel_on = "nose"
pin_retained = true
[hanger]
at = "5 ft 2 in"
height = "6 in"
spacing = "26 in"
[hanger.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 3/8 in"
width = "2 3/4 in"
foot = "4 in"
weld = "3/16 in"
weld_length = "4 in"
stand_off = "1 in"
steel = "A36"
[perch]
downstream = "-7 in"
height = "61 in"
spacing = "31 in"
[perch.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 3/8 in"
width = "2 3/4 in"
foot = "4 in"
weld = "3/16 in"
weld_length = "4 in"
stand_off = "1 in"
steel = "A36"
[perch.post]
shape = "HSS4x4x3/8"
free_length = "38 in"
weld = "3/8 in"
steel = "A500B"
[line]
wear = "5 %"
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[[line.link]]
kind = "wire rope"
table = "rope_6x19_fc_ips"
diameter = "1/2 in"
termination = "mechanical splice"
thimble = true
length = "40 in"
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[water]
flow = "160 gpm"
lip = "4 1/4 in"
[bed]
depth = "1 1/2 in"
density = "128 lb/ft3"
[person]
people = 0
"""


def case_of(text: str = SOUND) -> Case:
    return read_case_text(text, name="test")


def rig_of(text: str = SOUND) -> Rig:
    return Rig(case_of(text))


def close(one: float, two: float, *, relative: float = 1e-9) -> bool:
    return bool(np.isclose(one, two, rtol=relative, atol=0.0))
