"""Six results worked anew from what a packet prints and nothing else, to half a percent; formulas from the documents.

What stands in brackets behind a formula is where it stems from; only strengths of the steels named in the packet are
added: A36, Fy 36 ksi (ASTM A36).
"""

import re
from fractions import Fraction
from functools import cache
from math import hypot
from pathlib import Path

import pytest

from rigcheck.case import read_case
from rigcheck.output.report.packet import packet
from rigcheck.output.report.page import report_html
from tests.output.report_reader import read

CASES = Path(__file__).parents[2] / "cases"
NAMES = ("larkspur-bar", "tollgate-riffle")
HALF = 5e-3
A36 = 36000.0  # psi
FORCE = r"(-?[\d,.]+) lb"
THREE = r"(-?[\d,.]+) / (-?[\d,.]+) / (-?[\d,.]+)"


@cache
def text_of(name):
    path = CASES / f"{name}.toml"
    text = path.read_text(encoding="utf-8")
    found = packet(read_case(path), source=None, text=text, curves=False, working=False)
    return " ".join(read(report_html(found)).visible.split())


def value(text):
    return float(text.replace(",", ""))


def inch(text):
    """A size as a drawing has it: 1 1/4."""
    return float(sum(Fraction(part) for part in text.split()))


def body(name):
    """What stands from the free body on."""
    text = text_of(name)
    return text[text.rindex("3. Free body of the governing case") :]


def told(name, pattern):
    found = re.search(pattern, body(name))
    assert found, pattern
    return [value(one) for one in found.groups()]


def forces(name, part):
    """Unfactored and amplified x, y, z of a force of the free body."""
    table = body(name)
    table = table[table.index("Level x, unfactored") :]
    found = re.search(rf"{part} {FORCE} {FORCE} {FORCE}(?: {FORCE} / {FORCE} / {FORCE})?", table)
    assert found, part
    return [value(one) for one in found.groups() if one]


@pytest.mark.parametrize("name", NAMES)
def test_line_pull(name):
    """Moments about the hinge pin: the pull of both lines times its lever arm is the moment of the loads."""
    (moment,) = told(name, r"About the hinge axis, unfactored: loads ([\d,.]+) lb\*in")
    (arm,) = told(name, r"The lines pull at a lever arm of ([\d.]+) in")
    (pull,) = told(name, rf"T, both lines {FORCE}")
    assert moment / arm == pytest.approx(pull, rel=HALF)
    sides = sum(hypot(*forces(name, f"{side} line")[:3]) for side in ("left", "right"))
    assert sides == pytest.approx(pull, rel=HALF)


@pytest.mark.parametrize("name", NAMES)
def test_hinge_force(name):
    """What loads and lines leave along x and z is what the hinge takes."""
    loads, lines = forces(name, "loads"), [forces(name, f"{side} line") for side in ("left", "right")]
    for axis, sign in ((0, "Rx"), (2, "Rz")):
        (hinge,) = told(name, rf"{sign} {FORCE}")
        assert abs(loads[axis] + sum(one[axis] for one in lines)) == pytest.approx(hinge, rel=HALF)
        both = sum(forces(name, f"{side} hinge")[axis] for side in ("left", "right"))
        assert abs(both) == pytest.approx(hinge, rel=HALF)


@pytest.mark.parametrize("name", NAMES)
def test_lug(name):
    """Bearing of a pin in a plate, 1.25 Fy d t / Nd with Nd = 3 (BTH-1 3-3.3.1); demand over it is what is told."""
    plate = re.search(r"plate ([\d/ ]+) in, A36 hole", text_of(name))[1]
    lug = r"Hanger lug, face of the plate, to scale; width at the hole [\d/ ]+ in, pin ([\d/ ]+) in"
    pin = re.search(lug, text_of(name))[1]
    use, demand, allowed = told(name, rf"hanger lug: bearing on the pin (\d+) % \w+ {FORCE} {FORCE}")
    by_hand = 1.25 * A36 * inch(plate) * inch(pin) / 3.0
    assert by_hand == pytest.approx(allowed, rel=HALF)
    assert 0.0 <= use - 100.0 * demand / by_hand < 1.0 + 100.0 * HALF  # whole per cent, rounded up


@pytest.mark.parametrize("name", NAMES)
def test_weld(name):
    """Weld round a square post of side d as a line: A = 4 d, S = 4/3 d2, J = 4/3 d3 (elastic vector method)."""
    force, moment = post_base(name)
    side = inch(re.search(r"HSS(\d+)x\1x", text_of(name).partition("Base of a perch post")[0][-400:])[1])
    plain, second = 4.0 * side, 4.0 / 3.0 * side**2
    up = (abs(moment[0]) + abs(moment[1])) / second + abs(force[2]) / plain
    twist = abs(moment[2]) * 0.5 * side / (4.0 / 3.0 * side**3)
    along = [abs(force[axis]) / plain + twist for axis in (0, 1)]
    (printed,) = told(name, r"perch post base weld: force per inch \d+ % \w+ ([\d,.]+) lb/in")
    assert hypot(up, *along) == pytest.approx(printed, rel=HALF)


@pytest.mark.parametrize("name", NAMES)
def test_post(name):
    """Moment at the foot of a post: the level force at its lug by its height, the upright one by its reach."""
    force, moment = post_base(name)
    height = value(re.search(r'perch\.post\.free_length "([\d.]+) in"', text_of(name))[1])
    lug = re.search(r"(\d[\d/ ]*?) foot [\d/ ]+ Perch lug, turned upright", text_of(name))[1]
    depth = inch(re.search(r"HSS(\d+)x\1x", text_of(name).partition("Base of a perch post")[0][-400:])[1])
    reach = 0.5 * depth + inch(lug_arm(name) or lug)
    assert force[0] * height - force[2] * reach == pytest.approx(moment[1], rel=HALF)
    assert -force[1] * height == pytest.approx(moment[0], rel=HALF)


@pytest.mark.parametrize("name", NAMES)
def test_rail(name):
    """Stress of the fiber: |N/A| and |M| c/I, added where they act alike (parallel-axis section of the drawing)."""
    stress, axial, moment, area, inertia, fiber = told(
        name,
        r"Largest fiber stress ([\d,.]+) psi .*?Axial force, moment there (-?[\d,.]+) lb, (-?[\d,.]+) lb\*in "
        r"Section of the rail A = ([\d.]+) in2, I = ([\d.]+) in4 Fiber from the neutral axis ([\d.]+) in",
    )
    bent, pulled = moment * fiber / inertia, axial / area
    assert min(abs(abs(bent + pulled) - stress), abs(abs(bent - pulled) - stress)) <= HALF * stress
    assert f"A = {area:g} in2, I = {inertia:g} in4 about it" in text_of(name)


def post_base(name):
    """Force and moment at the base of a post, the worst at work."""
    table = text_of(name)
    table = table[table.index("Post bases, where the moment is largest") :]
    found = [value(one) for one in re.search(rf"{THREE} {THREE}", table).groups()]
    return found[:3], found[3:]


def lug_arm(name):
    """Face of the post to the hole: the lower of the two sizes beside the plate of the perch lug."""
    before = text_of(name).partition("Perch lug, turned upright")[0][-160:]
    found = re.findall(r"E70 face of the post (\d(?: \d+/\d+)?|\d+/\d+) ", before)
    return found[0] if found else ""
