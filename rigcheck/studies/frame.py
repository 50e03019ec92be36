"""One rail, its line and its loads as a plane frame for an outside solver, and a check of the solver's answer."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, hypot, sin
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

CELLS = 96  # equal parts of the rail; loads go to the nodes by the lever rule, which keeps M at every node exact
_TOUCH = 1e-4  # points nearer than this share of the length are one
_RIGID = 1e5  # stiffness of an offset over that of the rail, both over their own length
_TAUT = 1e-6  # give of a line that is described as rigid, over the give of the rail as a cantilever to the hanger
_GAUSS = 0.5 / np.sqrt(3.0)  # two points integrate a cubic exactly


class FrameError(Exception):
    """The outside solver's answer does not satisfy its own equations, or the frame is a mechanism."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """Shape and stiffness of one rail and its line, box coordinates unless said.

    Attributes:
        length: Hinge to tail. [in]
        axis: Neutral axis above the floor. [in]
        hinge_n: Hinge axis above the floor. [in]
        hanger: Hanger, s and n. [in]
        perch: Perch from the hinge axis, x and z. [in]
        out_of_plane: How far the line moves across between hanger and perch. [in]
        angle: Floor above level. [rad]
        axial: E A. [lbf]
        bending: E I. [lbf*in2]
        give: Length that the line gives per pound of its tension. [in/lbf]
    """

    length: float
    axis: float
    hinge_n: float
    hanger: tuple[float, float]
    perch: tuple[float, float]
    out_of_plane: float
    angle: float
    axial: float
    bending: float
    give: float


@dataclass(frozen=True, slots=True)
class Points:
    """Forces at points of the rail's plane, shapes (point,): s, n [in], along the floor and square to it [lbf]."""

    s: Array
    n: Array
    f_s: Array
    f_n: Array


@dataclass(frozen=True, slots=True)
class Band:
    """A load along the floor, linear from start to end: n [in], along the floor and square to it [lbf/in]."""

    start: float
    end: float
    n: tuple[float, float]
    q_s: tuple[float, float]
    q_n: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the frame gives; every field adds up when load cases are added.

    Attributes:
        tension: Of the line, in space. [lbf]
        hinge: Plant on rail, x and z, shape (2,). [lbf]
        moment: At both ends of every part of the rail, shape (part, 2). [lbf*in]
        fall: Movement of the nodes square to the floor, downward, shape (node,). [in]
        imbalance: Largest force, or moment over length, that the frame leaves over. [lbf]
    """

    tension: float
    hinge: Array
    moment: Array
    fall: Array
    imbalance: float

    def plus(self, other: Answer, *, sign: float) -> Answer:
        """This answer with another one added, sign +1 or -1."""
        return Answer(
            tension=self.tension + sign * other.tension,
            hinge=self.hinge + sign * other.hinge,
            moment=self.moment + sign * other.moment,
            fall=self.fall + sign * other.fall,
            imbalance=max(self.imbalance, other.imbalance),
        )


def mesh(length: float, *, at: list[float]) -> Array:
    """Stations of the nodes: every place where something begins, ends or acts, and equal parts between.

    Args:
        length: Of the rail. [in]
        at: Places that must be nodes; those nearer than a ten-thousandth of the length to another are left out. [in]

    Returns:
        Shape (node,). [in]
    """
    kept = [0.0, length]
    for s in at:
        if all(abs(s - other) > _TOUCH * length for other in kept):
            kept.append(float(s))
    least = 0.25 * length / CELLS
    for s in np.linspace(0.0, length, CELLS + 1):
        if all(abs(s - other) > least for other in kept):
            kept.append(float(s))
    return np.sort(np.array(kept))


def _spread(rail: Rail, *, nodes: Array, points: Points) -> tuple[Array, Array]:
    """Forces along and square to the floor at the nodes with the same resultant and moment, shapes (node,)."""
    cell = np.clip(np.searchsorted(nodes, points.s, side="right") - 1, 0, len(nodes) - 2)
    span = nodes[cell + 1] - nodes[cell]
    t = (points.s - nodes[cell]) / span
    couple = points.f_s * (points.n - rail.axis) / span
    along, square = np.zeros_like(nodes), np.zeros_like(nodes)
    for where, share, turn in ((cell, 1.0 - t, 1.0), (cell + 1, t, -1.0)):
        np.add.at(along, where, points.f_s * share)
        np.add.at(square, where, points.f_n * share + turn * couple)
    return along, square


def _sampled(band: Band, *, nodes: Array) -> Points:
    """A band as point forces, two per part of the rail, with exact resultants and moments."""
    low, high = np.clip(nodes[:-1], band.start, band.end), np.clip(nodes[1:], band.start, band.end)
    middle, span = 0.5 * (low + high), high - low
    s = np.concatenate([middle - _GAUSS * span, middle + _GAUSS * span])
    weight = 0.5 * np.concatenate([span, span])
    t = (s - band.start) / (band.end - band.start)

    def at(ends: tuple[float, float]) -> Array:
        return ends[0] + (ends[1] - ends[0]) * t

    return Points(s=s, n=at(band.n), f_s=at(band.q_s) * weight, f_n=at(band.q_n) * weight)


class _Model:
    """The frame while it is put together; nodes by their box coordinates."""

    def __init__(self, rail: Rail) -> None:
        from anastruct.fem.system import SystemElements  # half a second, and needed for the second opinion only

        self.rail = rail
        self.cos, self.sin = cos(rail.angle), sin(rail.angle)
        self.system: Any = SystemElements(EA=rail.axial, EI=rail.bending)
        self.ids: dict[tuple[float, float], int] = {}
        self.forces: dict[int, list[float]] = {}

    def place(self, point: tuple[float, float]) -> list[float]:
        s, n = point[0], point[1] - self.rail.hinge_n
        return [s * self.cos - n * self.sin, s * self.sin + n * self.cos]

    def bar(self, first: tuple[float, float], last: tuple[float, float], *, stiff: bool) -> int:
        """A part of the rail, or an offset that does not bend."""
        length = hypot(last[0] - first[0], last[1] - first[1])
        factor = _RIGID * length / self.rail.length if stiff else 1.0
        made = self.system.add_element(
            [self.place(first), self.place(last)], EA=self.rail.axial * factor, EI=self.rail.bending * factor
        )
        self.ids[first], self.ids[last] = self.ends(made, first=self.place(first))
        return int(made)

    def ends(self, element: int, *, first: list[float]) -> tuple[int, int]:
        """Nodes of an element from a given end on: the solver may turn an element round."""
        made = self.system.element_map[element]
        one, two = made.node_id1, made.node_id2
        gaps = [dist(self.system.node_map[node].vertex.coordinates, first) for node in (one, two)]
        return (one, two) if gaps[0] < gaps[1] else (two, one)

    def end_forces(self, element: int, *, first: int) -> Array:
        """Forces x, z (down) and turn on both ends of an element, the given node's end first, shape (2, 3)."""
        made = self.system.element_map[element]
        forces = np.asarray(made.element_force_vector, dtype=np.float64).reshape(2, 3)
        return forces if made.node_id1 == first else forces[::-1]

    def offset(self, node: tuple[float, float], point: tuple[float, float]) -> int:
        """Node of a point off the neutral axis, with its rigid offset made where there is none yet."""
        if abs(point[1] - node[1]) < _TOUCH * self.rail.length:
            return self.ids[node]
        if point not in self.ids:
            self.bar(node, point, stiff=True)
        return self.ids[point]

    def push(self, node: int, *, f_s: float, f_n: float) -> None:
        """Add a force; the solver itself keeps only the last one on a node, so they are summed here."""
        have = self.forces.setdefault(node, [0.0, 0.0])
        have[0] += f_s * self.cos - f_n * self.sin
        have[1] += f_s * self.sin + f_n * self.cos


def _line(model: _Model, *, hanger: int) -> tuple[int, Array, float]:
    """The line as a truss bar to the perch; its element, direction in the plane, and plane length over true length."""
    rail = model.rail
    start = np.array(model.place(rail.hanger))
    step = np.array(rail.perch) - start
    plane = float(np.hypot(*step))
    share = plane / float(np.hypot(plane, rail.out_of_plane))
    least = _TAUT * rail.hanger[0] ** 3 / (3.0 * rail.bending)
    # T in the plane is T x share, and the hanger moves give x T / share along it
    made = model.system.add_truss_element(
        [[*model.system.node_map[hanger].vertex.coordinates], [float(v) for v in rail.perch]],
        EA=plane * share**2 / max(rail.give, least),
    )
    return int(made), step / plane, share


def _checked(model: _Model, *, displacement: Array, supports: list[int], scale: float) -> tuple[Array, float]:
    """Put the displacements back into the equations and sum forces and moments over the frame.

    Returns:
        Reactions x and z at the supports, shape (support, 2), and the largest force left over.
    """
    system = model.system
    left = np.asarray(system.system_matrix @ displacement - system.system_force_vector).reshape(-1, 3)
    reaction = np.array([[left[node - 1, 0], -left[node - 1, 1]] for node in supports])
    fixed = np.zeros(left.shape, dtype=np.bool_)
    fixed[[node - 1 for node in supports], :2] = True
    worst = float(np.abs(np.where(fixed, 0.0, left)).max())
    force, turn = reaction.sum(0), 0.0
    for node, (x, z) in zip(supports, (system.node_map[i].vertex.coordinates for i in supports), strict=True):
        turn += x * reaction[supports.index(node), 1] - z * reaction[supports.index(node), 0]
    for node, (f_x, f_z) in model.forces.items():
        x, z = system.node_map[node].vertex.coordinates
        force = force + np.array([f_x, f_z])
        turn += x * f_z - z * f_x
    imbalance = max(worst, float(np.abs(force).max()), abs(turn) / model.rail.length)
    if imbalance > 1e-4 * scale:
        raise FrameError(f"the frame leaves {imbalance:.3g} lbf of {scale:.3g} lbf over")
    moved = np.abs(displacement.reshape(-1, 3)[:, :2]).max()
    if moved > model.rail.length:
        raise FrameError(f"the frame moves {moved:.3g} in: it is a mechanism")
    return reaction, imbalance


def solve_frame(rail: Rail, *, bands: list[Band], points: Points, nodes: Array) -> Answer:
    """Rail, line and loads as a plane frame: general bars, rigid offsets, a truss bar for the line.

    Args:
        rail: Rail and line.
        bands: Loads along the floor.
        points: Forces at points, carried to the rail by rigid offsets where they act off its axis.
        nodes: Stations of the nodes; hanger and points are among them, shape (node,). [in]

    Returns:
        The frame's answer.

    Raises:
        FrameError: If the answer does not satisfy equilibrium, or the frame is a mechanism.
    """
    model = _Model(rail)
    axis = [(float(s), rail.axis) for s in nodes]
    parts = [model.bar(first, last, stiff=False) for first, last in pairwise(axis)]

    def nearest(s: float) -> tuple[float, float]:
        return axis[int(np.abs(nodes - s).argmin())]

    hinge = model.offset(nearest(0.0), (0.0, rail.hinge_n))
    hanger = model.offset(nearest(rail.hanger[0]), rail.hanger)
    line, direction, share = _line(model, hanger=hanger)
    perch = sum(model.ends(line, first=model.place(rail.hanger))) - hanger
    spread = [_spread(rail, nodes=nodes, points=_sampled(band, nodes=nodes)) for band in bands if band.end > band.start]
    for along, square in spread:
        for here, f_s, f_n in zip(axis, along, square, strict=True):
            model.push(model.ids[here], f_s=float(f_s), f_n=float(f_n))
    for s, n, f_s, f_n in zip(points.s, points.n, points.f_s, points.f_n, strict=True):
        if f_s or f_n:
            near = nearest(float(s))
            model.push(model.offset(near, (near[0], float(n))), f_s=float(f_s), f_n=float(f_n))
    scale = sum(abs(f_x) + abs(f_z) for f_x, f_z in model.forces.values())
    if scale == 0.0:
        return Answer(0.0, np.zeros(2), np.zeros((len(parts), 2)), np.zeros(len(nodes)), 0.0)
    for node, (f_x, f_z) in model.forces.items():
        model.system.point_load(node, Fx=f_x, Fy=f_z)
    model.system.add_support_hinged(hinge)
    model.system.add_support_hinged(perch)
    # naked: without the solver's sampled results and its eigenvalues; the checks are our own
    displacement = np.asarray(model.system.solve(naked=True), dtype=np.float64)
    reaction, imbalance = _checked(model, displacement=displacement, supports=[hinge, perch], scale=scale)
    ends = np.array(
        [model.end_forces(part, first=model.ids[here]) for part, here in zip(parts, axis[:-1], strict=True)]
    )
    moved = displacement.reshape(-1, 3)[[model.ids[here] - 1 for here in axis]]
    pulled = model.end_forces(line, first=hanger)[0]
    # inside the solver z points down
    return Answer(
        tension=float(-(pulled[0] * direction[0] - pulled[1] * direction[1])) / share,
        hinge=reaction[0],
        moment=np.stack([ends[:, 0, 2], -ends[:, 1, 2]], axis=-1),
        fall=moved[:, 0] * np.sin(rail.angle) + moved[:, 1] * np.cos(rail.angle),
        imbalance=imbalance,
    )
