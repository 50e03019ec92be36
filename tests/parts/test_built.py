"""Lines of the box as built: between the limp box and the stiff one, and both at its limits."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.analysis import solve as solving
from rigcheck.analysis.solve import solve
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.line.built import as_built
from tests.statics.random_rigs import CHANNELS, rig_of

LIMP, STIFF = BOUNDS.index("limp"), BOUNDS.index("stiff")


def built_of(monkeypatch, *, torsion: float, modulus: float = 1.0, states=("empty", "lopsided")):
    """The rig with all torsion constants and the rails' modulus times so much."""
    for name in ("members_across", "own_torsion"):
        real = getattr(solving, name)
        monkeypatch.setattr(
            solving, name, lambda *args, real=real, **keys: (
                lambda found: replace(found, torsion=torsion * found.torsion)
            )(real(*args, **keys))
        )  # fmt: skip
    section = solving.rail_section
    monkeypatch.setattr(
        solving, "rail_section", lambda rig: (lambda one: replace(one, modulus=modulus * one.modulus))(section(rig))
    )
    found = solve(rig_of(CHANNELS), only=frozenset(states))
    built = as_built(found)
    assert built is not None
    return found, built


def test_with_no_torsion_the_lines_are_those_of_the_limp_box(monkeypatch):
    found, built = built_of(monkeypatch, torsion=1e-12)
    limp = found.held.tension[list(built.rows), LIMP]
    assert np.abs(limp[:, 0] - limp[:, 1]).max() > 50.0
    np.testing.assert_allclose(built.tension, limp, rtol=1e-9)


def test_of_a_rigid_box_the_lines_are_even_and_the_take_up_is_their_give(monkeypatch):
    found, built = built_of(monkeypatch, torsion=1e13, modulus=1e13)
    rows = list(built.rows)
    np.testing.assert_allclose(built.tension, found.held.tension[rows, STIFF], rtol=1e-9)
    np.testing.assert_allclose(built.take_up, (found.held.total * found.give)[rows], rtol=1e-9)


def test_the_box_as_it_is_lies_between(monkeypatch):
    found, built = built_of(monkeypatch, torsion=1.0)
    rows = list(built.rows)
    limp = np.diff(found.held.tension[rows, LIMP], axis=-1)[:, 0]
    ours = np.diff(built.tension, axis=-1)[:, 0]
    uneven = np.abs(limp) > 1.0
    share = ours[uneven] / limp[uneven]
    assert np.all((share > 0.0) & (share < 1.0))
    assert np.all(built.take_up > (found.held.total * found.give)[rows])


def test_take_up_puts_all_on_the_line():
    """An even load on a level box: the give of the line that takes all, and the twist that its pull makes, by parts."""
    text = CHANNELS.replace("1.5 deg", "0 deg").replace('across = "1 in"', 'across = "0 in"')
    found = solve(rig_of(text), only=frozenset({"empty"}))
    built = as_built(found)
    assert built is not None
    assert built.tension[0, 0] == pytest.approx(built.tension[0, 1])
    left = found.sagged.place(0, BOUNDS.index("left"))
    apart = float(found.sag.stretch[left, 1] - found.sag.stretch[left, 0])  # the rails' own movement along the line
    names = ("hanger_spacing", "rail_spacing", "hanger_s", "hanger_n")
    h, b, s_h, n_h = (float(getattr(found.layout, name)) for name in names)
    lever = (h - 2.0 * s_h * n_h * float(found.pose.uy[0] / found.pose.arm[0])) / b  # side pull rolls against it
    twisted = float(built.take_up[0]) - float(found.give[0] * found.held.total[0])
    assert twisted == pytest.approx(apart * lever, rel=1e-6)
