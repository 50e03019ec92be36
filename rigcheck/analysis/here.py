"""What part of the box a solution is looked at for: all of it, or one stretch with what stands in it."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.case.rig import Rig


@dataclass(frozen=True, slots=True)
class Here:
    """What stands in the part of the box that is looked at.

    Attributes:
        head: Whether it is at the hinge.
        hanger: Whether the hangers are in it, or next to it.
        tail: Whether it is at the tail.
        bay: Whether any floor between is in it, and not the member at one place alone.
        name: What it is called behind the name of a part; empty for the whole box.
        whole: The rig that it is a part of; None where it is the whole box.
        number: Which stretch, counted from 0; None where it is the whole box.
    """

    head: bool = True
    hanger: bool = True
    tail: bool = True
    bay: bool = True
    name: str = ""
    whole: Rig | None = None
    number: int | None = None


WHOLE = Here()
