"""Wind on the folded box: the hand figures of an 8 x 2 ft face, and directions."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.states import life
from rigcheck.loads.wind import TOWARD, face_push, hung_pushes, pressure, speed_of
from tests.statics.random_rigs import PLAIN, rig_of

CASES = Path(__file__).parents[2] / "cases"
MPH = 17.6
FACE = {"length": np.array(96.0), "width": np.array(24.0), "height": np.array(6.0)}


def moment(push):
    """About the hinge axis at the head, positive toward the tail side, for a box at right angles to level."""
    return push["fx"] * push["s"]


def test_pressure_at_a_hundred_miles_an_hour():
    assert pressure(np.array(100.0 * MPH)) * 144.0 == pytest.approx(25.6, rel=1e-12)


def test_leaning_face_by_hand():
    lean = np.radians(95.0)
    push = face_push(pressure(np.array(60.0 * MPH)) * 1.4, angle=lean, **FACE)["+x"]
    x, z = 48.0 * np.cos(lean) - 3.0 * np.sin(lean), 48.0 * np.sin(lean) + 3.0 * np.cos(lean)
    # 0.00256 x 60^2 psf x 1.4 x 16 ft2 x 4 ft = 826 lb-ft on the bare face; 5 degrees of lean take sin(95) of it
    assert (z * push.fx - x * push.fz) / 12.0 == pytest.approx(826.0 * np.sin(lean), abs=0.5)


def test_leaning_face_lifts_off_at_about_fifteen_miles_an_hour():
    held = 157.0 * 48.0 * np.sin(np.radians(5.0))  # weight over its 5 degrees of lean
    assert held / 12.0 == pytest.approx(55.0, abs=0.5)
    per_pressure = moment(vars_of(face_push(np.array(1.4), angle=np.radians(90.0), **FACE)["+x"]))
    assert speed_of(held / per_pressure) / MPH == pytest.approx(15.0, abs=0.6)


def vars_of(push):
    return {name: float(getattr(push, name)) for name in ("fx", "fy", "fz", "s", "n")}


@pytest.mark.parametrize("degrees", [60.0, 90.0, 120.0])
def test_wind_pushes_the_way_it_blows_and_square_to_the_face(degrees):
    angle = np.radians(degrees)
    pushes = face_push(np.array(0.1), angle=angle, **FACE)
    assert set(pushes) == set(TOWARD)
    ahead, back = vars_of(pushes["+x"]), vars_of(pushes["-x"])
    assert ahead["fx"] > 0.0 > back["fx"]
    assert ahead["fx"] * np.cos(angle) + ahead["fz"] * np.sin(angle) == pytest.approx(0.0, abs=1e-9)
    assert {key: ahead[key] + back[key] for key in ("fx", "fz")} == pytest.approx({"fx": 0.0, "fz": 0.0})
    assert vars_of(pushes["+y"])["fy"] == pytest.approx(0.1 * 96.0 * 6.0)
    assert vars_of(pushes["-y"])["fy"] == -vars_of(pushes["+y"])["fy"]
    assert {(float(one.s), float(one.n)) for one in pushes.values()} == {(48.0, 3.0)}  # the middle of the box


def test_gust_on_the_hanging_box_by_hand():
    """Q = 0.00256 x 40^2 = 4.096 psf at 40 mph; 105 in, 27.2092 in over the sides, sides 7 in, at 30 degrees.

    Floor 1.2 q B L under 41.8 degrees; ends 1.8 q B H, the wind's part along the floor; sides 1.8 q L H.
    """
    rig = varied(rig_of(PLAIN), {"wind.hung": np.array(40.0 * MPH)})
    width, angle = 27.2092, np.radians(30.0)
    pushes = hung_pushes(rig, angle=angle, width=np.array(width))
    q = 4.096 / 144.0
    floor, end, side = 1.2 * q * width * 105.0, 1.8 * q * width * 7.0, 1.8 * q * 105.0 * 7.0
    for toward, along, across in (("+x", 1.0, 0.0), ("-x", -1.0, 0.0), ("+y", 0.0, 1.0), ("-y", 0.0, -1.0)):
        for word, up in (("down", -1.0), ("up", 1.0)):
            push = pushes[toward][word]
            fx = -up * floor * 0.5 + along * end * 0.75
            fz = up * floor * np.sqrt(0.75) + along * end * np.sqrt(0.75) * 0.5
            assert (float(push.fx), float(push.fy), float(push.fz)) == pytest.approx((fx, across * side, fz))
            assert (float(push.s), float(push.n)) == (52.5, 3.5)
    upright = hung_pushes(rig, angle=np.radians(90.0), width=np.array(width))["+y"]["down"]
    assert float(upright.fx) == pytest.approx(1.8 * q * width * 105.0)


def test_flat_box_meets_no_wind_along_the_plant():
    assert face_push(np.array(0.1), angle=np.array(0.0), **FACE)["+x"].fx == 0.0


def test_speed_is_the_inverse_of_pressure():
    speeds = np.linspace(0.0, 2000.0, 11)
    np.testing.assert_allclose(speed_of(pressure(speeds)), speeds, rtol=1e-12)


def test_a_gust_on_the_way_up_eases_each_box_of_a_batch_by_itself():
    """One box stands past its balance point where the other does not; 110 deg is past it, 70 deg never gets there."""
    rig = Rig(read_case(CASES / "larkspur-bar.toml"))
    ends = np.radians([70.0, 110.0])
    batch = life(varied(rig, {"fold.to": ends}), batch=(2,), only=frozenset({"wind_hung"})).loads
    for design, end in enumerate(ends):
        alone = life(varied(rig, {"fold.to": np.asarray(end)}), only=frozenset({"wind_hung"})).loads
        np.testing.assert_array_equal(batch.strip["gain"][design], alone.strip["gain"])
        np.testing.assert_array_equal(batch.lump["gain"][design], alone.lump["gain"])
    assert (batch.strip["gain"][0] != batch.strip["gain"][1]).any()
