"""A strength function a tenth short: the worked calculation refuses to print and tells both numbers, exit 70."""

import re
import sys
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from functools import wraps
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.calculation import DisagreementError
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import section_by, worked_by
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli.codes import OUR_BUG
from rigcheck.cli.entry import main
from rigcheck.statics import tipping
from rigcheck.strength.connections import faces, links, lugs, pins, sheets, tiedown, weld_lines, welds
from rigcheck.strength.members import chord, compression, interaction, plates, shapes, strips
from tests.calculation.working_rigs import changed

CASES = Path(__file__).parents[2] / "cases"
ROOMS = [
    (shapes, "moment_strength", "post", "kestrel-bench"),
    (shapes, "shear_strength", "post", "kestrel-bench"),
    (shapes, "compression_strength", "post", "kestrel-bench"),
    (shapes, "torsion_strength", "rail-strength", "lower-hatch"),
    (compression, "allowable_stress", "rail-strength", "lower-hatch"),
    (compression, "moment_amplifier", "rail-strength", "lower-hatch"),
    (interaction, "member", "post", "kestrel-bench"),
    (lugs, "lug_strength", "lug", "quarter-creek"),
    (lugs, "flat_plate_moment", "lug", "larkspur-bar"),
    (lugs, "lug_strength", "hinge", "quarter-creek"),
    (faces, "face_strength", "face", "cinder-fork"),
    (pins, "pin_strength", "pin", "quarter-creek"),
    (pins, "pin_moment", "pin", "quarter-creek"),
    (welds, "fillet_allowable", "weld", "fallow-ditch"),
    (weld_lines, "peak_force", "weld", "kestrel-bench"),
    (links, "link_pull", "line", "quarter-creek"),
    (links, "pulled_aside", "line", "quarter-creek"),
    (strips, "strip_stress", "floor", "lower-hatch"),
    (strips, "strip_allows", "floor", "lower-hatch"),
    (tipping, "moments", "plant", "heron-shelf"),
]
BEHIND = [  # of parts that something else of them outranks
    (shapes, "moment_strength", "hanger cross-member", "together"),
    (plates, "web_crippling", "rail", "side wall under the hanger"),
    (chord, "chord_allowable", "rail", "top edge"),
    (tiedown, "least_number", "tie-downs", "number"),
    (tiedown, "least_aggregate", "tie-downs", "aggregate"),
    (tiedown, "aggregate_limit", "tie-downs", "aggregate"),
]


def less(found: Any) -> Any:
    """Nine tenths of a number, or of every number of a record."""
    if is_dataclass(found) and not hasattr(found, "expression"):
        return replace(found, **{one.name: less(getattr(found, one.name)) for one in fields(found)})
    return 0.9 * found if not isinstance(found, np.ndarray) or found.dtype == np.float64 else found


def cut(monkeypatch: pytest.MonkeyPatch, module: Any, name: str) -> None:
    """Cut a function by a tenth wherever it is called from."""
    own: Callable[..., Any] = getattr(module, name)

    @wraps(own)
    def held_back(*args: Any, **kwargs: Any) -> Any:
        return less(own(*args, **kwargs))

    for other in list(sys.modules.values()):
        if getattr(other, "__name__", "").startswith("rigcheck") and getattr(other, name, None) is own:
            monkeypatch.setattr(other, name, held_back)


@pytest.mark.parametrize(("module", "name", "part", "mode"), BEHIND)
def test_so_it_is_of_what_does_not_govern(monkeypatch, module, name, part, mode):
    cut(monkeypatch, module, name)
    checked = assess(Rig(read_case(CASES / "larkspur-bar.toml")))
    one = next(found.check for found in checked.worst if found.check.part == part and mode in found.check.mode)
    book = Book(checked, among=lambda check: check is one)
    with pytest.raises(DisagreementError, match=f"^{part}: .*{mode}.*: .* in the check"):
        section_by(book, str(worked_by(one)))


@pytest.mark.parametrize(
    ("name", "variant"), [("wall_under_lug", "stiffener below"), ("floor_under_barrel", "barrels on bare sheet")]
)
def test_so_it_is_of_bare_sheet(monkeypatch, name, variant):
    cut(monkeypatch, sheets, name)
    with pytest.raises(DisagreementError, match=r" by its steps, .* in the check"):
        section_by(Book(changed.__wrapped__(variant)), "face")


def test_what_a_function_within_holds_back_stands_on_the_page(monkeypatch):
    """The page is the run: of a function that another one calls, the tenth is in the equation."""
    cut(monkeypatch, chord, "chord_buckling")
    checked = assess(Rig(read_case(CASES / "larkspur-bar.toml")))
    one = next(found.check for found in checked.worst if "top edge" in found.check.mode)
    section = section_by(Book(checked, among=lambda check: check is one), "rail-strength")
    (equation,) = [step.equation.text for step in section.steps if step.heading == "Elastic buckling stress"]
    assert equation == "F_E = 0.9*N_k/A_k"


@pytest.mark.parametrize(("module", "name", "part", "case"), ROOMS, ids=[f"{one[1]}-{one[2]}" for one in ROOMS])
def test_a_tenth_less_is_refused(monkeypatch, capsys, module, name, part, case):
    arguments = ["working", str(CASES / f"{case}.toml"), "--part", part]
    cut(monkeypatch, module, name)
    assert main(arguments) == OUR_BUG
    told = " ".join(capsys.readouterr().err.split())
    assert re.search(r": .+: [-\d.e+]+ by (the algebra|its steps), [-\d.e+]+ in the check", told), told
    assert "DisagreementError" in told
