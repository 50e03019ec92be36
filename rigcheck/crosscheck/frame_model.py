"""The hung box as a space frame while it is put together for an outside solver: its nodes, parts and supports."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, dist, sin
from typing import Any, Literal

import numpy as np

from rigcheck.arrays.types import Array, Mask
from rigcheck.crosscheck.frame_box import SHEAR, YOUNG, Box
from rigcheck.crosscheck.without_plots import without_plots

Point = tuple[float, float, float]

CELLS = 8  # equal parts of a rail from hinge to hanger, and half as many beyond; M at every node is exact
SIDE = (1.0, -1.0)
RAILS = "LR"
HINGES = ("left hinge", "right hinge")
DOFS = ("DX", "DY", "DZ", "RX", "RY", "RZ")
_TOUCH = 2e-5  # stations nearer than this share of the length are one node
SAME = 1e-6  # heights and widths nearer than this share of the length are one
RIGID = 3e4  # stiffness of an offset over that of the rail, both over their own length
_TIP = 3e6  # the same of one that carries a force at its tip alone, over that of the rail as a cantilever
_TAUT, _SLACK = 1e-6, 1e3  # least and most give of a line over that of the rail as a cantilever to the hanger


@dataclass(frozen=True, slots=True)
class Held:
    """How a box hangs.

    Attributes:
        lines: Which lines hold it; "alike" where both pull with one force, however the box twists.
        rolls: Whether its hinge gives no roll couple, so that both groups carry alike.
        twist: What joins the rails: nothing, members as built, or members that do not twist.
        give: What one line gives. [in/lbf]
    """

    lines: Literal["both", "alike", "left", "right"]
    rolls: bool = False
    twist: Literal["none", "as built", "rigid"] = "as built"
    give: float = 0.0


def mesh(length: float, *, hanger: float, at: Sequence[float]) -> Array:
    """Stations of the nodes: every place where something begins, ends or acts, and equal parts between.

    Args:
        length: Of the rail. [in]
        hanger: Station of the hangers. [in]
        at: Further places that should be nodes, but not those nearer than a few hundred-thousandths of the length. [in]

    Returns:
        Shape (node,). [in]
    """
    kept = [0.0, hanger] if abs(length - hanger) <= _TOUCH * length else [0.0, hanger, length]
    even = [*np.linspace(0.0, hanger, CELLS + 1), *np.linspace(hanger, length, CELLS // 2 + 1)]
    for places, least in ((at, _TOUCH * length), (even, 0.25 * hanger / CELLS)):
        for s in places:
            if all(abs(s - other) > least for other in kept):
                kept.append(float(s))
    return np.sort(np.array(kept))


class Model:
    """The frame while it is put together: points by their box coordinates, the solver's axes those of the plant.

    Attributes:
        box: The box.
        nodes: Stations of the nodes of the rails, shape (node,). [in]
        cos: Of the floor above level.
        sin: The same.
        frame: The solver's model.
        places: Nodes by their box coordinates.
        grounded: Nodes that the plant holds, and whether it does along x, y and z.
        parts: Names of the parts of each rail, in order.
        members: Names of what joins the rails, empty for what twists nothing.
        pulls: For each line of the frame the share of its pull that is the tension of the left and the right line.
        foot: Node that takes what goes across the box.
    """

    def __init__(self, box: Box, *, nodes: Array, angle: float) -> None:
        with without_plots():  # needed for the second opinion only, and slow to load even so
            from Pynite import FEModel3D

        self.box, self.nodes = box, nodes
        self.cos, self.sin = cos(angle), sin(angle)
        self.frame: Any = FEModel3D()
        self.frame.add_material("steel", YOUNG, SHEAR, 0.3, 0.0)
        self.frame.add_section("rail", box.area, box.inertia, box.inertia, 1e-6 * box.inertia)
        self.places: dict[str, Point] = {}
        self.grounded: dict[str, Mask] = {}
        self.parts: tuple[list[str], list[str]] = ([], [])
        self.members: list[str] = []
        self.pulls: dict[str, Array] = {}
        self.foot = ""

    def node(self, name: str, place: Point) -> str:
        """A node at a point in box coordinates, made where there is none of this name; its name."""
        if name not in self.places:
            s, y, n = place[0], place[1], place[2] - self.box.hinge_n
            self.frame.add_node(name, s * self.cos - n * self.sin, y, s * self.sin + n * self.cos)
            self.places[name] = place
        return name

    def stiff(self, name: str, i: str, j: str, *, tip: bool = False, **released: bool) -> None:
        """A part that hardly bends, by its length against that of the rail; softer where only a force acts on its tip.

        What is stiffer than needed costs digits, and a short stub soon is.
        """
        share = dist(self.places[i], self.places[j]) / self.box.length
        area, twist = RIGID * share * self.box.area, 2.0 * RIGID * share * self.box.inertia
        inertia = (_TIP * share**3 if tip else RIGID * share) * self.box.inertia
        self.frame.add_section(name, area, inertia, inertia, twist)
        self.frame.add_member(name, i, j, "steel", name)
        if released:
            self.frame.def_releases(name, **released)

    def ground(self, name: str, *dofs: str) -> None:
        """Let the plant hold a node in some directions."""
        self.frame.def_support(name, **{f"support_{dof}": dof in dofs for dof in DOFS})
        self.grounded[name] = np.array([dof in dofs for dof in DOFS[:3]])

    def rail_node(self, side: int, s: float) -> str:
        """The node of a rail at a station."""
        return f"{RAILS[side]}{int(np.abs(self.nodes - s).argmin())}"

    def end_of(self, side: int, *, part: int, far: bool) -> str:
        """The node at an end of a part of a rail, at the height of that part where the rail steps."""
        stepped = f"{RAILS[side]}{part + 1}a"
        return stepped if far and stepped in self.places else f"{RAILS[side]}{part + far}"

    def level(self, n: float, *, s: float) -> bool:
        """Whether a height is that of the rails at a station."""
        return abs(n - self.box.part_at(s).axis) <= SAME * self.box.length

    def spacing(self, s: float) -> float:
        """Between the rails at a station."""
        return float(self.box.apart(np.asarray(s)))


def line_give(box: Box, *, give: float) -> float:
    """What a line gives in the frame: within what its numbers can hold beside the rail. [in/lbf]"""
    rail = box.hanger[0] ** 3 / (3.0 * YOUNG * box.inertia)
    return min(max(give, _TAUT * rail), _SLACK * rail)
