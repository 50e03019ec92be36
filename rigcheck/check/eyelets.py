"""The eyelets that tie-downs hook into: plate at the hole, bending at its root and weld, under each strap's pull."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig
from rigcheck.check.missing import Missing
from rigcheck.check.post_model import lug_run
from rigcheck.check.rows import Check
from rigcheck.loads.steel import side_sheet
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.bth1 import PinPlate
from rigcheck.strength.lugs import lug_strength, upright_plate_moment
from rigcheck.strength.weld_lines import WeldLoad, peak_force, two_verticals
from rigcheck.strength.welds import CONFIDENCE, Joint, fillet_allowable
from rigcheck.tables import steel

Array = NDArray[np.float64]
_Row = tuple[str, str, Array | float, Array, str]


def _key(index: int) -> str:
    return f"haul.tie_down.{index}.eyelet"


def eyelets_not_assessed(rig: Rig) -> list[Missing]:
    """Eyelets that the case does not describe far enough."""
    missing: list[Missing] = []
    for i in range(len(rig.value("haul.tie_down"))):
        if rig.value(_key(i)) is None:
            missing.append(Missing(f"eyelet of tie-down {i + 1}", id=_key(i), group="road"))
            continue
        if not rig.has(f"{_key(i)}.pin"):
            text = f"eyelet of tie-down {i + 1} (what goes through it is not known)"
            missing.append(Missing(text, id=f"{_key(i)}.pin", group="road"))
        if not (rig.has(f"{_key(i)}.weld") and rig.has(f"{_key(i)}.weld_length")):
            missing.append(Missing(f"weld of the eyelet of tie-down {i + 1}", id=f"{_key(i)}.weld", group="road"))
    return missing


def eyelet_checks(rig: Rig, *, pull: Array, where: NDArray[np.bool_]) -> list[Check]:
    """Every described eyelet on the chosen basis, and on strength for the breaking-strength set of the road.

    The plate is taken to stand in line with its strap. Its hole is pulled toward the nearer of edge and side, its root
    and its weld in the worse of two directions: along the weld, and square to it.

    Args:
        rig: The rig, one or a batch.
        pull: Pull of one strap of each kind, shape (..., state, 1, 1, strap). [lbf]
        where: Rows looked at, broadcasts to (..., state, bound, side).

    Returns:
        Checks; none where no eyelet is described.

    Source: docs/method.md#lug; docs/method.md#folded.
    """
    checks: list[Check] = []
    for i in range(len(rig.value("haul.tie_down"))):
        if rig.value(_key(i)) is None:
            continue
        for basis in (BASES[str(rig.value("basis"))], ULTIMATE):
            grade = steel.grade(str(rig.value(f"{_key(i)}.steel"))).key
            for mode, unit, per_pound, capacity, clause in _rows(rig, i, basis=basis):
                ultimate = basis is ULTIMATE
                checks.append(
                    Check(part=f"eyelet of tie-down {i + 1}", group="road", unit=unit, ultimate=ultimate,
                          mode=mode + (" (strength)" if ultimate else ""),
                          demand=pull[..., i] * np.asarray(per_pound)[..., None, None, None],
                          capacity=np.asarray(capacity)[..., None, None, None], where=where, clause=clause,
                          basis=f"{basis.title}; steel {grade}; plate in line with its strap")
                )  # fmt: skip
    return checks


def _rows(rig: Rig, index: int, *, basis: Basis) -> list[_Row]:
    key = _key(index)
    metal = steel.grade(str(rig.value(f"{key}.steel")))
    plate, width, edge = (rig.number(f"{key}.{name}") for name in ("plate", "width", "edge"))
    stated = rig.number(f"{key}.stand_off")
    arm = np.where(stated > 0.0, stated, edge)
    rows: list[_Row] = []
    if rig.has(f"{key}.pin"):
        hole = rig.number(f"{key}.hole")
        near = np.minimum(edge, 0.5 * width)
        strong = lug_strength(
            PinPlate(
                thickness=plate,
                width=np.minimum(width, 2.0 * edge),
                edge=near,
                hole=hole,
                pin=np.minimum(rig.number(f"{key}.pin"), hole),
                edge_radius=0.0,
                fy=metal.fy,
                fu=metal.fu,
            ),
            basis=basis,
        )
        clause = "ASME BTH-1 3-3.3.1 (memory)" if basis.name == "lifting" else "AISC 360-22 D5, J7 (seen)"
        rows += [
            ("tension beside the hole", "force", 1.0, strong.tension, clause),
            ("splitting beyond the hole", "force", 1.0, strong.splitting, clause),
            ("tear-out on two planes", "force", 1.0, strong.shear, clause),
            ("bearing on what goes through it", "force", 1.0, strong.bearing, clause),
        ]
    bend = upright_plate_moment(plate, depth=lug_run(rig, key=key), fy=metal.fy, basis=basis, length=arm)
    rows.append(("bending at its root", "moment", arm, bend, "AISC 360-22 F11 (memory); ASME BTH-1 3-2.3 (memory)"))
    if rig.has(f"{key}.weld") and rig.has(f"{key}.weld_length"):
        rows.append(_weld(rig, key, arm=arm, basis=basis))
    return rows


def _weld(rig: Rig, key: str, *, arm: Array, basis: Basis) -> _Row:
    plate, length = rig.number(f"{key}.plate"), lug_run(rig, key=key)
    group = two_verticals(plate, depth=length)
    along = peak_force(group, load=WeldLoad(fy=np.ones(()), mx=-arm))
    square = peak_force(group, load=WeldLoad(fz=np.ones(())))
    fexx = steel.electrode(str(rig.value("weld.electrode"))).fexx
    share = CONFIDENCE[str(rig.value("weld.hand"))]
    allowed = [
        fillet_allowable(
            Joint(
                leg=rig.number(f"{key}.weld"),
                length=length,
                electrode=fexx,
                thickness=thick,
                fy=metal.fy,
                fu=metal.fu,
                faces=faces,
            ),
            basis=basis,
            confidence=share,
        )
        for thick, metal, faces in (
            (plate, steel.grade(str(rig.value(f"{key}.steel"))), 2.0),
            # what it stands on is not described: the side wall, the thinnest it can be
            (side_sheet(rig), steel.grade(str(rig.value("box.steel"))), 1.0),
        )
    ]
    clause = "AISC 360-22 J2.4, J4.2 (seen, memory); elastic vector sum"
    return ("weld, force per inch", "line", np.maximum(along, square), np.minimum(*allowed), clause)
