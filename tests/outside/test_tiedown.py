"""Every figure of the road tie-down rules that the engine or the tables give, against the printed rule."""

from fractions import Fraction

import numpy as np

from rigcheck.strength.connections import tiedown as rules
from rigcheck.tables import tiedown
from tests.outside.values import check, declarations, inputs


def _sizes(stem: str) -> list[tuple[str, float]]:
    names = [name for name in declarations() if name.startswith(stem) and name[len(stem)].isdigit()]
    return [(name, float(Fraction(name.removeprefix(stem)))) for name in names]


def test_limits_of_unmarked_chain_webbing_and_rope():
    for grade in ("30", "43", "70", "80", "100"):
        for name, size in _sizes(f"tiedown-chain-{grade}-"):
            check(name, tiedown.chain_limit(size, grade=grade).value)
    for name, width in _sizes("tiedown-webbing-"):
        check(name, tiedown.webbing_limit(width).value)
    for name, diameter in _sizes("tiedown-rope-"):
        check(name, tiedown.wire_rope_limit(diameter).value)
    for fiber in tiedown.FIBERS:
        for name, diameter in _sizes(f"tiedown-{fiber.replace(' ', '-')}-"):
            check(name, tiedown.fiber_rope_limit(fiber, diameter=diameter).value)


def test_accelerations_and_shares():
    for basis in tiedown.BASES:
        for way in tiedown.DIRECTIONS:
            check(f"tiedown-{way}-{basis.split()[0]}", tiedown.acceleration(way, basis=basis).value)
    one = np.ones(1)
    for kind in tiedown.CREDITS:
        name = f"tiedown-credit-{kind.replace(', ', '-').replace(' ', '-')}"
        check(name, rules.aggregate_limit(one, counts=[1], kinds=[kind]))
    check("tiedown-half", rules.least_aggregate(1.0))
    check("tiedown-hold-down", rules.least_hold_down(1.0))


def test_numbers():
    for name, feet, weight, blocked in (
        ("5ft-1100lb", 5.0, 1100.0, False),
        ("5ft-1101lb", 5.0, 1101.0, False),
        ("10ft", 10.0, 500.0, False),
        ("20ft", 20.0, 500.0, False),
        ("20ft-blocked", 20.0, 500.0, True),
    ):
        check(f"tiedown-number-{name}", rules.least_number(12.0 * feet, weight=weight, blocked=blocked))


def test_worked_example_of_a_driving_manual():
    weight = inputs("tiedown_3_65m_600kg")["weight_kg"]
    least = rules.least_aggregate(weight)
    check("tiedown-each-of-three", least / rules.aggregate_limit(np.ones(1), counts=[3], kinds=["over, other side"]))
    counts = np.arange(1, 20)
    sums = np.array([rules.aggregate_limit(np.full(1, 50.0), counts=[n], kinds=["over, other side"]) for n in counts])
    check("tiedown-how-many-of-50", counts[np.argmax(sums >= least)])
