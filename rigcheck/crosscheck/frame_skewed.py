"""Rails that change along the box, or run apart, in a space frame: each bends square to itself and does not twist.

What a rail askew cannot carry about the length of the box goes over by bars across that do not bend, and what it pushes
aside where it turns goes into the floor at the floor's own level.
"""

from __future__ import annotations

from math import atan2, degrees, dist

from rigcheck.crosscheck.frame_model import Model

_LETTERS, _SIDES = "LR", (1.0, -1.0)
_BAR = 1e3  # stiffness of a bar across over that of the rail, both over their own length
_SOFT = 1e-6  # the same of what must not bend or twist anything
_STEP = 1e-6  # share of the length under which the neutral axis of two stretches is at one height


def skewed_rails(model: Model) -> None:
    """Both rails stretch by stretch, with a bar and a foot in the floor at every station."""
    for k, part in enumerate(model.box.parts):
        model.frame.add_section(f"rail {k}", part.area, part.inertia, _SOFT * part.inertia, _SOFT * part.inertia)
    for side, letter in enumerate(_LETTERS):
        _nodes(model, side=side)
        for i in range(len(model.nodes) - 1):
            name = f"rail {letter}{i}"
            number = model.box.parts.index(model.box.part_at(float(model.nodes[i])))
            ends = model.end_of(side, part=i, far=False), model.end_of(side, part=i, far=True)
            model.frame.add_member(name, *ends, "steel", f"rail {number}")
            model.parts[side].append(name)
    box = model.box
    for i, s in enumerate(model.nodes):
        share = model.spacing(float(s)) / box.length
        hard, soft = _BAR * share * box.inertia, _SOFT * box.inertia
        model.frame.add_section(f"bar {i}", _BAR * share * box.area, hard, soft, soft)
        turned = degrees(atan2(model.sin, model.cos))  # stiff about the length of the box, and soft in its floor
        model.frame.add_member(f"bar {i}", f"L{i}", f"R{i}", "steel", f"bar {i}", rotation=turned)
        foot = model.node(f"foot {i}", (float(s), 0.5 * model.spacing(float(s)), 0.0))
        if dist(model.places[foot], model.places[f"L{i}"]) > _STEP * box.length:
            model.stiff(f"post {i}", f"L{i}", foot)


def _nodes(model: Model, *, side: int) -> None:
    """Nodes of one rail, two of them where its neutral axis steps."""
    box, letter = model.box, _LETTERS[side]
    for i, s in enumerate(float(value) for value in model.nodes):
        y, part = 0.5 * _SIDES[side] * model.spacing(s), box.part_at(s)
        name = model.node(f"{letter}{i}", (s, y, part.axis))
        number = box.parts.index(part)
        before = box.parts[number - 1] if number and s <= part.start + _STEP * box.length else part
        if abs(before.axis - part.axis) > _STEP * box.length:
            model.stiff(f"step {name}", model.node(f"{name}a", (s, y, before.axis)), name)


def floor_holds(model: Model, *, corner: str, far: str, aside: float, stiffness: float) -> None:
    """The floor along the box, stiff in its own plane, and what it takes from the rails at every station.

    Args:
        model: The frame.
        corner: Its node beside the head.
        far: Its node beside the hangers.
        aside: How far both are off the middle. [in]
        stiffness: Of what holds it, times the length of the box. [lbf]
    """
    hanger = model.box.hanger[0]
    nodes = []
    for i, s in enumerate(float(value) for value in model.nodes):
        at_end = {0.0: corner, hanger: far}.get(s)
        nodes.append(at_end or model.node(f"floor {i}", (s, aside, 0.0)))
        model.frame.add_spring(f"floor hold {i}", f"foot {i}", nodes[-1], stiffness / model.box.length)
    for i in range(len(nodes) - 1):
        model.stiff(f"floor along {i}", nodes[i], nodes[i + 1])
