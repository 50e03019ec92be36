"""The whole frame of a hung box from its parts: rails, members, arms, the floor in its own plane, lines."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.crosscheck.frame_box import SHEAR, YOUNG, Box, Tie
from rigcheck.crosscheck.frame_model import DOFS, HINGES, RAILS, RIGID, SAME, SIDE, Held, Model, Point, line_give
from rigcheck.crosscheck.frame_skewed import floor_holds, skewed_rails

_HANGERS = ("left hanger", "right hanger")
_HOP = 0.3  # rise of a detour round nodes that a member must not meet, over the spacing of the rails


def _rails(model: Model) -> None:
    """Two rails that bend square to the floor and stretch; the floor keeps them from all other movement."""
    if not model.box.plain:
        skewed_rails(model)
        return
    for side, letter in enumerate(RAILS):
        names = [
            model.node(f"{letter}{i}", (float(s), 0.5 * SIDE[side] * model.box.spacing, model.box.axis))
            for i, s in enumerate(model.nodes)
        ]
        for name in names:
            model.frame.def_support(name, support_DY=True, support_RX=True, support_RZ=True)
        for i, j in pairwise(names):
            model.frame.add_member(f"rail {i}", i, j, "steel", "rail")
            model.parts[side].append(f"rail {i}")


def _ties(model: Model, *, rigid: bool) -> None:
    """Cross-members and end tubes: ends turn with the rails, and free to tilt and to bend."""
    known = (*model.box.ties, *model.box.own) or (Tie(0.0, 0.0),)
    for k, tie in enumerate(known):
        name = f"tie {k}"
        if tie.twist == 0.0 and not rigid:
            model.members.append("")
            continue
        ends = [model.rail_node(side, tie.s) for side in range(2)]
        if model.level(model.box.hinge_n, s=tie.s) or model.level(model.box.hanger[1], s=tie.s):
            # the solver joins a member to any node on its way, such as the middle of an arm: keep below them
            for side in range(2):
                s, y, n = model.places[ends[side]]
                ear = model.node(f"{name} {RAILS[side]} ear", (s, y, n - _HOP * model.box.spacing * (1.0 + 0.01 * k)))
                model.stiff(f"{name} {RAILS[side]} stub", ends[side], ear)
                ends[side] = ear
        hard = RIGID * YOUNG * model.box.inertia * model.box.spacing / model.box.length
        model.frame.add_section(name, 1e-6, 1e-6, 1e-6, (hard if rigid else tie.twist) / SHEAR)
        model.frame.add_member(name, *ends, "steel", name)
        # a member that is stiff along itself would tie the rails across, which the floor does
        model.frame.def_releases(name, Dxi=True, Ryi=True, Rzi=True, Ryj=True, Rzj=True)
        model.members.append(name)


def _arm(model: Model, word: str, *, s: float, n: float, ends: float, names: tuple[str, str]) -> str:
    """A rigid arm across the box at a height: it rests on both rails along and square to the floor, and on the floor.

    Turned about its own length it goes with the left rail; nothing loads it so. Its foot in the plane of the floor is
    where forces across the box go out. The solver joins a member to every node on its way, so that what must not meet
    the ends of the rails goes round by a crown.

    Returns:
        The node of its foot.
    """
    middle, crown = model.node(f"{word} middle", (s, 0.0, n)), f"{word} crown"
    model.stiff(f"{word} post", middle, model.node(crown, (s, 0.0, n + _HOP * model.box.spacing)))
    for side, letter in enumerate(RAILS):
        y = 0.5 * SIDE[side] * model.spacing(s)
        rest = model.rail_node(side, s)
        if not model.level(n, s=s):
            top = model.node(f"{word} {letter} top", (s, y, n))
            model.stiff(f"{word} {letter} stub", rest, top, tip=True)
            rest = top
        out = 0.5 * ends if abs(ends - model.spacing(s)) > SAME * model.box.length else abs(y)
        end = model.node(names[side], (s, SIDE[side] * out, n))
        model.stiff(f"{word} {letter} end", crown, end)
        # an end that stands on the way to the rail is where the way begins
        start = end if out < abs(y) else middle
        model.stiff(f"{word} {letter}", start, rest, tip=True, Dxj=True, Ryj=True, Rzj=True, Rxj=side == 1)
    if abs(n) <= SAME * model.box.length:
        return middle
    model.stiff(f"{word} leg", middle, model.node(f"{word} foot", (s, 0.0, 0.0)), tip=True)
    return f"{word} foot"


def _floor(model: Model, *, hanger: str) -> None:
    """The floor in its own plane: stiff, held at the head arm, and pushed across by the foot of the hanger arm."""
    aside = 2.7 * model.box.spacing  # a force across may be handed over anywhere along its own line
    corner = model.node("floor corner", (0.0, aside, 0.0))
    far = model.node("floor far", (model.box.hanger[0], aside, 0.0))
    model.stiff("floor across", "head crown", corner)
    if model.box.plain:
        model.stiff("floor along", corner, far)
    else:
        floor_holds(model, corner=corner, far=far, aside=aside, stiffness=RIGID * YOUNG * model.box.area)
    model.frame.add_spring("floor push", hanger, far, RIGID * YOUNG * model.box.area / model.box.length)


def _perch(model: Model, *, y: float) -> Point:
    x, z = model.box.perch
    return x * model.cos + z * model.sin, y, z * model.cos - x * model.sin + model.box.hinge_n


def _lines(model: Model, *, held: Held) -> None:
    """The lines as springs from hanger to perch."""
    box = model.box
    give = line_give(box, give=held.give)
    for side, name in enumerate(("left", "right")):
        if held.lines not in ("both", name):
            continue
        perch = model.node(f"{name} perch", _perch(model, y=0.5 * SIDE[side] * box.perch_spacing))
        model.ground(perch, *DOFS)
        model.frame.add_spring(f"{name} line", f"{name} hanger", perch, 1.0 / give)
        model.pulls[f"{name} line"] = np.array([side == 0, side == 1], dtype=np.float64)
    if held.lines == "alike":
        # two equal pulls are one in the middle; T sqrt(1 - u_y^2) each, and the give by the square of that share
        perch = model.node("perch", _perch(model, y=0.0))
        plane = dist(model.places[perch], model.places["hanger middle"])
        share = plane / float(np.hypot(plane, 0.5 * (box.perch_spacing - box.hanger_spacing)))
        model.ground(perch, *DOFS)
        model.frame.add_spring("line", "hanger middle", perch, 2.0 * share**2 / give)
        model.pulls["line"] = np.full(2, 0.5 / share)


def built(box: Box, *, held: Held, angle: float, nodes: Array) -> Model:
    """The whole frame but its loads.

    Args:
        box: The box.
        held: How it hangs.
        angle: Floor above level. [rad]
        nodes: Stations of the nodes, shape (node,). [in]
    """
    model = Model(box, nodes=nodes, angle=angle)
    _rails(model)
    if held.twist != "none":
        _ties(model, rigid=held.twist == "rigid")
    model.foot = _arm(model, "head", s=0.0, n=box.hinge_n, ends=box.hinge_spacing, names=HINGES)
    hanger = _arm(model, "hanger", s=box.hanger[0], n=box.hanger[1], ends=box.hanger_spacing, names=_HANGERS)
    _floor(model, hanger=hanger)
    _lines(model, held=held)
    for name in HINGES:
        model.ground(name, "DX") if held.rolls else model.ground(name, "DX", "DZ")
    model.ground("head middle", *(("DY", "DZ") if held.rolls else ("DY",)))
    return model
