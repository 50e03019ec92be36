"""Every number of every result is in the unit of its kind: in SI it is that of US units times the factor of its kind.

The factors are exact by definition (pound 0.45359237 kg, 9.80665 m/s2, inch 25.4 mm, mile 1609.344 m, gallon 231 in3);
what a key is stands here by its name and is asked of nothing in the program. A key that is not named has no unit.
"""

from collections.abc import Iterator
from typing import Any

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.extras import extras
from rigcheck.output.check.result import result
from rigcheck.output.fold.view import fold_result
from rigcheck.output.haul.view import haul_result
from rigcheck.output.materials.view import materials_result
from rigcheck.output.proof.view import proof_result
from rigcheck.output.props.view import props_result
from rigcheck.output.report.data import report_data
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.haul.study import haul
from rigcheck.studies.proof.study import proof
from rigcheck.studies.props.study import props
from tests.page.running import ROOT

POUND = 0.45359237 * 9.80665  # N
INCH = 25.4  # mm
FACTORS = {
    POUND: """weight force force.x force.y force.z left right x y z line largest largest_alone largest_demand
        allowed largest_alone_demand marked most least wll mbf pull pull_breaking_set feed_force snub
        snub_demand line_alone line_demand line_alone_demand hinge_most stops tie_downs stops.capacity push
        bag empty even reached_tension target water_tension working bags electrodes weld_metal sums.box
        sums.on_box on_plant carried empty_box hardware.allowable hardware.demand extra hinge uplift axial shear
        max_axial max_shear tension""",
    POUND
    * INCH
    / 1000.0: """moment moment.left.x moment.left.y moment.left.z moment.right.x moment.right.y moment.right.z
        max_moment turn twist sagging hogging load_moment line_moment rail_moment.value""",
    POUND / INCH**2: "stress",
    POUND / INCH: "per_inch",
    INCH: """cg.n cg.s cg.y cg s n take_off.y pieces.y person_s side_gap deployed folded line.least lift shortest
        take_up stress_at sag tail_deflection sag.value tail_deflection.value take_up_to_carry_all lever_arm
        line_length critical_depth depth normal_depth depth_start depth_tail pool.start surface surge_depth
        height length_along_road width size across length thickness leg run bags_at brim keep_out tail_fall
        corners hanger from to at wall weld arm edge foot hole pin plate barrel_length barrel_wall gap
        plant_barrel_length weld_length free_length axis floor seams.wall_seam.pitch side_height side_sheet
        low strip bed spacing divider_height lip packed rail_spacing sheet above_ground downstream
        rail_diagrams.hanger drop rail_diagrams.x shape.x fiber""",
    1000.0 / 12.0: "pitch_left pitch_left.value box.pitch",
    0.45359237 / (INCH / 1000.0 * 12.0) ** 3: "density",  # lb/ft3 to kg/m3
    231.0 * (INCH / 100.0) ** 3 / 60.0: "flow",  # gpm to L/s
    1.609344: "lift_off speed",  # mph to km/h
    (12.0 * INCH / 1000.0) ** 2: "wind.area",
    POUND / (12.0 * INCH) ** 2 * 1000.0: "pressure",  # lb/ft2 to kPa
    INCH**2: "rail.area stress_parts.area",
    INCH**4: "inertia",
    1.0: "fold.to rows.floor water_share_of_target",  # degrees, shares
}
NAMES = {name: factor for factor, names in FACTORS.items() for name in names.split()}
UNITS = {
    "lbf": ("N", POUND), "in": ("mm", INCH), "lbf*in": ("N*m", POUND * INCH / 1000.0), "psi": ("MPa", POUND / INCH**2),
    "lbf/in": ("N/mm", POUND / INCH), "": ("", 1.0),
}  # fmt: skip


def numbers(us: Any, si: Any, path: str = "") -> Iterator[tuple[str, float, float]]:
    """Every number of two results alike, and its keys."""
    if isinstance(us, dict):
        assert us.keys() == si.keys(), path
        for key, value in us.items():
            if key in ("demand", "capacity") and "unit" in us and value is not None:
                unit, factor = UNITS[us["unit"]]  # a row of a check names its own
                assert (unit, si[key]) == (si["unit"], pytest.approx(factor * value, rel=1e-9)), path
            else:
                yield from numbers(value, si[key], f"{path}.{key}")
    elif isinstance(us, list):
        assert len(us) == len(si), path
        for one, other in zip(us, si, strict=True):
            yield from numbers(one, other, path)
    elif isinstance(us, int | float) and not isinstance(us, bool):
        yield path, us, si


@pytest.mark.parametrize("name", ["two-stone-pit"])  # feet, posts, straps, stops, barrels, two channels, over
def test_every_number_is_in_the_unit_of_its_kind(name: str) -> None:
    found = assess(Rig(read_case(ROOT / "cases" / f"{name}.toml")))
    rig = found.solution.rig
    folded, hauled, proved, propped = fold_of(found), haul(rig, assessment=found), proof(rig), props(rig)

    def results(system: Any) -> Iterator[tuple[str, Any]]:
        told = result(found, system=system, extras=extras(found, system=system))
        yield "check", told
        yield "fold", fold_result(folded, system=system)
        yield "haul", haul_result(hauled, system=system)
        yield "proof", proof_result(proved, system=system)
        yield "props", props_result(propped, rig=rig, system=system)
        yield "materials", materials_result(found, system=system)
        packet = report_data(found, result=told, text="", system=system)
        yield "report", {key: value for key, value in packet.items() if key not in ("result", "formulas")}

    seen, wrong = set(), set()
    for (command, us), (_, si) in zip(results("us"), results("si"), strict=True):
        for path, value, other in numbers(us, si, command):
            steps = path.split(".")
            known = [".".join(steps[i:]) for i in range(len(steps))]
            factor = next((NAMES[one] for one in known if one in NAMES), 1.0)
            seen.add(path)
            if other != pytest.approx(factor * value, rel=1e-9, abs=1e-6 * factor):
                wrong.add(path)
    assert wrong == set() and len(seen) > 400
