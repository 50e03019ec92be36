"""The load cases of a box's life: one record each, read by loads, checks, studies and words alike.

A new load case is a record here and, where it has loads of its own, a function in rigcheck/loads with its entry in
`LEVEL` of rigcheck/loads/states.py. Nothing else lists them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final

EMPTY: Final = "empty"
RUNNING: Final = "running"
SURGE: Final = "surge"
PLUGGED: Final = "plugged"
PACKED: Final = "packed"
LOPSIDED: Final = "lopsided"
CLEANOUT: Final = "cleanout"
DIGOUT: Final = "digout"
ICED: Final = "iced"
FOLDING: Final = "folding"
TOWING: Final = "towing"
WIND_HUNG: Final = "wind_hung"
SNAGGED: Final = "snagged"
PARKED: Final = "parked"
HAULING: Final = "hauling"
LINE_BROKEN: Final = "line_broken"


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCase:
    """One load case.

    Attributes:
        id: Its word in results and options.
        opening: How a sentence about it begins.
        words: Its name in a table; the id, spaced, where not said.
        hung: The box hangs on its lines in its working place and stands still.
        folded: The folded box, held by hinge, stops, straps or lines; lines share nothing of it.
        backup_slack: A backup, cut to the length at which the lines run, takes nothing.
        moving: The box moves or is held fast, so that no deflection at rest is told.
        propped: A further support at the tail is compared in it.
        shown_propped: On the first screen of that comparison.
        at_rest: A load that lies still, which a proof load of water and bags stands for.
        at_work: The lines pull by what the box weighs at work, so that their largest pull is to be proved.
        measurable: Somebody can read scale and tape in it.
        full_pull: The hoist pulls its full rating, whatever the box weighs.
        on_feet: The plant stands on its feet under loads that no other load case has.
        left_alone: The box is left by itself in it for days, so that one hinge group may be lost unseen.
        gravel_to_top: Gravel presses on the side walls up to their top.
        water_runs: Water runs over the bed.
        floor_bare: People may stand on the bare sheet, between what they have dug away.
        of_others: Its rows are made from those of the hung load cases and of the fold.
    """

    id: str
    opening: str
    words: str = ""
    hung: bool = False
    folded: bool = False
    backup_slack: bool = False
    moving: bool = False
    propped: bool = False
    shown_propped: bool = False
    at_rest: bool = False
    at_work: bool = True
    measurable: bool = False
    full_pull: bool = False
    on_feet: bool = True
    left_alone: bool = False
    gravel_to_top: bool = False
    water_runs: bool = False
    floor_bare: bool = False
    of_others: bool = False

    @property
    def name(self) -> str:
        """Its name in a table."""
        return self.words or self.id.replace("_", " ")


def _hung(case: str, opening: str, **more: Any) -> LoadCase:
    return LoadCase(id=case, opening=opening, hung=True, propped=True, **more)


LOAD_CASES: tuple[LoadCase, ...] = (
    _hung(EMPTY, "With the box empty", measurable=True, left_alone=True),
    _hung(RUNNING, "With the plant running", shown_propped=True, at_rest=True, measurable=True, left_alone=True,
          water_runs=True),
    _hung(SURGE, "With a surge of water over the running box", at_rest=True, water_runs=True),
    _hung(PLUGGED, "With the outlet plugged and water pooled behind it", shown_propped=True, at_rest=True,
          measurable=True),
    _hung(PACKED, "With the box packed with gravel to the top of its sides", shown_propped=True, at_rest=True,
          measurable=True, gravel_to_top=True),
    _hung(LOPSIDED, "With gravel packed on one side of the box only", words="one side packed", at_rest=True),
    _hung(CLEANOUT, "At clean-out, with the bed in and somebody on the box", words="clean-out", shown_propped=True,
          at_rest=True),
    _hung(DIGOUT, "Digging out a packed box that has drained, somebody on it", words="digging out",
          shown_propped=True, gravel_to_top=True, floor_bare=True),
    _hung(ICED, "With the bed frozen and ice over it", at_rest=True, measurable=True),
    LoadCase(id=FOLDING, opening="While the box is being folded", moving=True, backup_slack=True),
    LoadCase(id=TOWING, opening="While the plant is towed with the box hanging", moving=True, propped=True,
             shown_propped=True, on_feet=False),
    LoadCase(id=WIND_HUNG, opening="In wind, with the empty box hung or on its way up", words="wind, hung",
             moving=True),
    LoadCase(id=SNAGGED, opening="With the box held fast and the hoist pulling its full rating", words="box snagged",
             moving=True, full_pull=True, at_work=False, on_feet=False, backup_slack=True),
    LoadCase(id=PARKED, opening="With the box folded and parked in the wind", folded=True, at_work=False,
             backup_slack=True),
    LoadCase(id=HAULING, opening="On the road with the box folded", words="on the road", folded=True, at_work=False,
             on_feet=False),
    LoadCase(id=LINE_BROKEN, opening="With one line broken", words="one line broken", on_feet=False, of_others=True),
)  # fmt: skip
"""Every load case, in the order of the box's life."""


def load_case(case: str) -> LoadCase:
    """The record of a load case; for a word that is none, a plain one that says its own word."""
    for one in LOAD_CASES:
        if one.id == case:
            return one
    plain = LoadCase(id=case, opening="")
    return replace(plain, opening=f"In the load case {plain.name}")


def ids(where: Callable[[LoadCase], bool]) -> tuple[str, ...]:
    """The load cases of a kind, in the order of the box's life."""
    return tuple(one.id for one in LOAD_CASES if where(one))
