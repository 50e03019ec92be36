"""Rules on the plant under the box, one function a rule. Distances are our own, wide of anything that is built."""

from collections.abc import Iterator

from rigcheck.case.models.plant import Foot, Plant, Wheels
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.quantities import write

FEWEST, MOST = 3, 8
_BASE = 6.0  # in: a foot of the base is this far at least from the line through any two others
_REACH = 24.0  # in: tongue from axle at least
_FAR, _WIDE = 480.0, 120.0  # in: a foot from the hinge along the plant, and from the middle of the box across it


def feet_make_a_base(plant: Plant) -> Iterator[Broken]:
    """The feet of a plant are three to eight, and do not all stand in one line."""
    feet = plant.foot
    if not feet:
        return
    if not FEWEST <= len(feet) <= MOST:
        why = (
            f"there {'is 1 foot' if len(feet) == 1 else f'are {len(feet)} feet'}; a plant stands on {FEWEST} to {MOST}"
        )
        yield Broken("foot", why)
        return
    places = [(one.downstream, one.across) for one in feet]
    if not any(_off(a, b, c) >= _BASE for a in places for b in places for c in places):
        yield Broken(
            "foot", f"all feet stand within {write(_BASE, dimension='length')} of one line, which holds no plant"
        )


def _off(start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]) -> float:
    """How far a point is from the line through two others; nothing where those are one."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dy * dy) ** 0.5
    return 0.0 if length == 0.0 else abs(dx * (point[1] - start[1]) - dy * (point[0] - start[0])) / length


def tongue_off_the_axle(wheels: Wheels) -> Iterator[Broken]:
    """The tongue of a plant is at least two feet from its axles."""
    if abs(wheels.tongue - wheels.axle) < _REACH:
        far = write(abs(wheels.tongue - wheels.axle), dimension="length")
        yield Broken("tongue", f"is {far} from the axles; a trailer needs {write(_REACH, dimension='length')} or more")


def foot_under_plant(foot: Foot) -> Iterator[Broken]:
    """A foot of the plant is under the plant."""
    for key, value, most in (("downstream", foot.downstream, _FAR), ("across", foot.across, _WIDE)):
        if abs(value) > most:
            far, limit = write(abs(value), dimension="length"), write(most, dimension="length")
            yield Broken(key, f"is {far} off; no plant of this kind reaches further than {limit}")


RULES: tuple[Rule, ...] = (
    Rule(("plant.foot",), foot_under_plant),
    Rule(("plant",), feet_make_a_base),
    Rule(("plant.wheels",), tongue_off_the_axle),
)
