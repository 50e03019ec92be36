"""The wind of a report: every wind on every face it meets, each force q C A by hand, q = 0.00256 V^2 (ASCE 7)."""

import pytest

from rigcheck.output.report.wind_data import wind_data
from rigcheck.wording.scale import Scale


def test_every_wind_on_every_face(assessment):
    found = wind_data(assessment.solution.rig, scale=Scale())
    faces = [(one["key"], one["face"].split(",")[0].split(" ")[0]) for one in found]
    assert faces == [(f"wind.{key}", face) for key in ("hung", "parked", "road") for face in ("floor", "side")]
    speeds = {"wind.parked": 90.0, "wind.road": 75.0}  # mph, of the case
    for one in found:
        speed = speeds.get(one["key"], one["speed"])
        assert one["speed"] == pytest.approx(speed)
        assert one["pressure"] == pytest.approx(0.00256 * speed**2, rel=2e-3)
        assert one["force"] == pytest.approx(one["pressure"] * one["coefficient"] * one["area"], rel=1e-9)
        assert one["force"] > 0.0 and (one["pressure_unit"], one["area_unit"]) == ("lb/ft2", "ft2")
