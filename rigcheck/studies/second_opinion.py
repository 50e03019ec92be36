"""The second opinion: the same rail, line and loads solved anew as a plane frame, and how far the answers differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rigcheck.check.assess import Assessment
from rigcheck.check.solve import Solution
from rigcheck.loads.pieces import BOUNDS, Row
from rigcheck.statics.rail import SHARES
from rigcheck.studies.frame import Answer, Band, Points, Rail, mesh, solve_frame

Array = NDArray[np.float64]

LIMIT = 0.005  # more than half a percent is an error, not a footnote
FLOOR = 0.01  # differences are held against at least this share of the largest value of the kind
_EVEN, _LIMP = SHARES.index("even"), BOUNDS.index("limp")
_LEAST_GRIP = 0.05  # side pull never takes more of the lever rule than leaves this, as in the balance


@dataclass(frozen=True, slots=True)
class Comparison:
    """One quantity from both methods.

    Attributes:
        name: What it is.
        kind: force, moment or length; the floor of the relative difference is taken within a kind.
        factored: True under the loads times their dynamic factors, False under the loads as they are.
        ours: From the closed forms. [lbf, lbf*in or in]
        frame: From the frame.
        difference: Over max(|value|, 1 % of the largest of its kind). [1]
    """

    name: str
    kind: str
    factored: bool
    ours: float
    frame: float
    difference: float


@dataclass(frozen=True, slots=True)
class Confirmation:
    """Both methods on one row and one way of sharing.

    Attributes:
        state: Index of the row.
        share: Index into `rigcheck.statics.rail.SHARES`.
        label: Row and share in words.
        comparisons: Every quantity compared.
        imbalance: Largest force that the frame leaves over. [lbf]
        row: The row itself.
    """

    state: int
    share: int
    label: str
    comparisons: tuple[Comparison, ...]
    imbalance: float
    row: Row | None = None

    @property
    def worst(self) -> float:
        """Largest relative difference."""
        return max(one.difference for one in self.comparisons)

    @property
    def ok(self) -> bool:
        """Whether every difference is within half a percent."""
        return self.worst <= LIMIT


def confirm(solution: Solution, *, state: int, share: int = 0, design: tuple[int, ...] = ()) -> Confirmation:
    """Solve one row anew as a plane frame and compare.

    A limp box is two frames: what both rails carry alike, and what one carries more than the other.

    Args:
        solution: The statics.
        state: Index of a row whose bending is worked out, away from a dead point.
        share: Index into SHARES: limp left or limp right.
        design: Place in the batch; empty for a single case.

    Returns:
        The comparison.

    Raises:
        ValueError: If the row has no rail forces, or stands at a dead point.
        FrameError: If the frame's own answer does not hold together.
    """
    if (state, _LIMP) not in solution.bent.pairs or share == _EVEN:
        raise ValueError(f"row {state} has no rail forces to compare")
    if bool(solution.held.dead[(*design, state)]):
        raise ValueError(f"row {state} stands at a dead point")
    row = solution.rows[state]
    compared, imbalance = _factored(solution, row=row, at=(*design, state), share=share)
    if (state, _LIMP) in solution.sagged.pairs:
        more, left = _resting(solution, row=row, at=(*design, state), share=share)
        compared, imbalance = [*compared, *more], max(imbalance, left)
    words = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in row.variant.items())
    return Confirmation(
        state=state,
        share=share,
        label=f"{row.state}{f' ({words})' if words else ''}, {SHARES[share]}",
        comparisons=tuple(_differences(compared)),
        imbalance=imbalance,
        row=row,
    )


def confirm_governing(assessment: Assessment, *, design: tuple[int, ...] = ()) -> list[Confirmation]:
    """Confirm the rows with the largest tension, the largest rail moment and the largest sag.

    Args:
        assessment: The assessment.
        design: Place in the batch; empty for a single case.

    Returns:
        One confirmation per row and share, without repeats.
    """
    solution = assessment.solution
    allowed = np.asarray(solution.allowed)
    shared = np.stack([allowed[:, _LIMP], allowed[:, _LIMP]], axis=-1)
    usable = shared & ~solution.held.dead[design][:, None]
    usable &= np.array([not row.ultimate for row in solution.rows])[:, None]
    bent, rested = solution.bent.slots[:, _LIMP] > 0, solution.sagged.slots[:, _LIMP] > 0
    pull = solution.demand.tension[..., _LIMP, :]
    chosen: list[tuple[int, int]] = []
    for values, where in (
        (pull, bent),
        (solution.bent.on_bounds(solution.peaks.max_moment)[..., _LIMP, :], bent),
        (solution.sagged.on_bounds(solution.sag.sag)[..., _LIMP, :], rested),
    ):
        ranked = np.where(usable & where, np.abs(values[design]), -1.0)
        place = np.unravel_index(int(ranked.argmax()), ranked.shape)
        if ranked[place] >= 0.0:
            chosen.append((int(place[0]), int(place[1])))
    return [confirm(solution, state=state, share=share, design=design) for state, share in dict.fromkeys(chosen)]


def worst_difference(confirmations: Sequence[Confirmation]) -> float:
    """Largest relative difference of several confirmations; nothing confirmed is an error."""
    if not confirmations:
        raise ValueError("nothing was confirmed")
    return max(one.worst for one in confirmations)


def _number(value: ArrayLike, at: tuple[int, ...]) -> float:
    """One design's value of a number or a batch."""
    array = np.asarray(value, dtype=np.float64)
    return float(array[at]) if array.ndim else float(array)


def _rail(solution: Solution, *, row: Row, at: tuple[int, ...]) -> Rail:
    points, section, design = solution.layout, solution.section, at[:-1]

    def one(value: ArrayLike) -> float:
        return _number(value, design)

    return Rail(
        length=one(points.length),
        axis=one(section.axis),
        hinge_n=one(points.hinge_height),
        hanger=(one(points.hanger_s), one(points.hanger_n)),
        perch=(one(points.perch_x), one(points.perch_z)),
        out_of_plane=0.5 * (one(points.perch_spacing) - one(points.hanger_spacing)),
        angle=one(row.fold) - one(points.pitch),
        axial=one(section.modulus) * one(section.area),
        bending=one(section.modulus) * one(section.inertia),
        give=float(np.broadcast_to(solution.give, solution.held.total.shape)[at]),
    )


@dataclass(frozen=True, slots=True)
class _Case:
    """Loads of one frame: half of everything, or half of what the left rail carries more than the right."""

    bands: list[Band]
    points: Points


def _cases(row: Row, *, rail: Rail, spacing: float, factored: bool, design: tuple[int, ...]) -> tuple[_Case, _Case]:
    """What both rails carry alike, and what the left one carries more, from the row's loads by the lever rule."""
    g_x, g_y, g_z = (_number(part, design) for part in row.gravity)
    cos, sin = float(np.cos(rail.angle)), float(np.sin(rail.angle))
    g_s, g_n = g_x * cos + g_z * sin, g_z * cos - g_x * sin
    bands: tuple[list[Band], list[Band]] = ([], [])
    for strip in row.strips:
        gain = _number(strip.gain, design) if factored else 1.0
        w = [gain * _number(value, design) for value in (strip.w_start, strip.w_end)]
        n = (_number(strip.n_start, design), _number(strip.n_end, design))
        start, end, y = (_number(value, design) for value in (strip.start, strip.end, strip.y))
        lean = [y * g_n - height * g_y for height in n]
        bands[0].append(Band(start, end, n, (0.5 * w[0] * g_s, 0.5 * w[1] * g_s), (0.5 * w[0] * g_n, 0.5 * w[1] * g_n)))
        bands[1].append(
            Band(
                start,
                end,
                n,
                (w[0] * g_s * y / spacing, w[1] * g_s * y / spacing),
                (w[0] * lean[0] / spacing, w[1] * lean[1] / spacing),
            )
        )
    forces: list[tuple[float, ...]] = []  # s, n, y, along, across, square
    for lump in row.lumps:
        weight = _number(lump.weight, design) * (_number(lump.gain, design) if factored else 1.0)
        place = [_number(value, design) for value in (lump.s, lump.n, lump.y)]
        forces.append((*place, weight * g_s, weight * g_y, weight * g_n))
    for push in row.pushes:
        f_x, f_y, f_z = (_number(value, design) for value in (push.fx, push.fy, push.fz))
        place = [_number(value, design) for value in (push.s, push.n, push.y)]
        forces.append((*place, f_x * cos + f_z * sin, f_y, f_z * cos - f_x * sin))
    s, n_at, y_at, along, across, square = np.array(forces, dtype=np.float64).reshape(-1, 6).T
    return (
        _Case(bands[0], Points(s, n_at, 0.5 * along, 0.5 * square)),
        _Case(bands[1], Points(s, n_at, along * y_at / spacing, (y_at * square - n_at * across) / spacing)),
    )


def _line_per_rail(rail: Rail, *, hangers: float, rails: float) -> float:
    """Difference of the lines that makes a difference of one pound between what the rails are pulled with.

    Lever rule from hangers to rails, less the couple of the lines' side pull between hanger and floor.
    """
    s, n = rail.hanger[0], rail.hanger[1] - rail.hinge_n
    cos, sin = float(np.cos(rail.angle)), float(np.sin(rail.angle))
    hanger = np.array([s * cos - n * sin, s * sin + n * cos])
    step = np.array(rail.perch) - hanger
    arm = hanger[0] * step[1] - hanger[1] * step[0]  # times line length, as is the side pull below
    grip = 0.5 * hangers - rail.hanger[0] * rail.hanger[1] * rail.out_of_plane / arm
    return float(0.5 * rails / max(grip, 0.5 * hangers * _LEAST_GRIP))


def _answer(
    solution: Solution, *, row: Row, at: tuple[int, ...], share: int, factored: bool
) -> tuple[Answer, Array, Rail]:
    """The frame under one row; for a limp box what both rails carry alike and what one carries more are added."""
    design = at[:-1]
    rail = _rail(solution, row=row, at=at)
    spacing = _number(solution.layout.rail_spacing, design)
    ratio = _line_per_rail(rail, hangers=_number(solution.layout.hanger_spacing, design), rails=spacing)
    alike, more = _cases(row, rail=rail, spacing=spacing, factored=factored, design=design)
    ends = [value for band in alike.bands for value in (band.start, band.end) if band.end > band.start]
    nodes = mesh(rail.length, at=[rail.hanger[0], *alike.points.s, *ends])
    answer = solve_frame(rail, bands=alike.bands, points=alike.points, nodes=nodes)
    if share != _EVEN:
        # force goes from rail to line by the ratio and movement back by it: the give counts by its square
        slack = replace(rail, give=rail.give * ratio**2)
        lean = solve_frame(slack, bands=more.bands, points=more.points, nodes=nodes)
        answer = answer.plus(replace(lean, tension=lean.tension * ratio), sign=1.0 if share == 0 else -1.0)
    return answer, nodes, rail


_Pair = tuple[str, str, bool, float, float]


def _factored(solution: Solution, *, row: Row, at: tuple[int, ...], share: int) -> tuple[list[_Pair], float]:
    """Line, hinge and peak moment under the factored loads; where one line has parted, under the loads that remain."""
    answer, _, rail = _answer(solution, row=row, at=at, share=share, factored=True)
    held = solution.held if row.ultimate else solution.demand
    forces = solution.bent.forces
    here = (*at[:-1], solution.bent.place(at[-1], _LIMP), share)
    if share == _EVEN:
        bound = BOUNDS.index("stiff")
        tension = 0.5 * float(held.total[at])
        hinge = held.hinge[(*at, bound)].mean(0)[[0, 2]]
    else:
        tension = float(held.tension[(*at, 0, share)])
        along, square = float(forces.hinge_s[here]), float(forces.hinge_n[here])
        cos, sin = np.cos(rail.angle), np.sin(rail.angle)
        hinge = np.array([along * cos - square * sin, along * sin + square * cos])
    peak = float(solution.peaks.max_moment[here])
    return [
        ("line tension", "force", True, tension, answer.tension),
        ("hinge force x", "force", True, float(hinge[0]), float(answer.hinge[0])),
        ("hinge force z", "force", True, float(hinge[1]), float(answer.hinge[1])),
        ("peak rail moment", "moment", True, peak, float(np.abs(answer.moment).max())),
    ], answer.imbalance


def _resting(solution: Solution, *, row: Row, at: tuple[int, ...], share: int) -> tuple[list[_Pair], float]:
    """Line, sag and tail drop under the loads as they are."""
    answer, nodes, rail = _answer(solution, row=row, at=at, share=share, factored=False)
    here = (*at[:-1], solution.sagged.place(at[-1], _LIMP), share)
    between = (nodes >= 0.0) & (nodes <= rail.hanger[0] * (1.0 + 1e-9))
    chord = np.interp(rail.hanger[0], nodes, answer.fall) * nodes / rail.hanger[0]
    tail = float(np.interp(rail.length, nodes, answer.fall))  # a fitting may hang past it
    held = solution.held
    tension = 0.5 * float(held.total[at]) if share == _EVEN else float(held.tension[(*at, 0, share)])
    return [
        ("line tension", "force", False, tension, answer.tension),
        ("sag", "length", False, float(solution.sag.sag[here]), float(np.abs(answer.fall - chord)[between].max())),
        ("tail drop", "length", False, float(solution.sag.tail_drop[here]), tail),
    ], answer.imbalance


def _differences(pairs: Sequence[_Pair]) -> list[Comparison]:
    largest: dict[str, float] = {}
    for _, kind, _, ours, frame in pairs:
        largest[kind] = max(largest.get(kind, 0.0), abs(ours), abs(frame))
    found = []
    for name, kind, factored, ours, frame in pairs:
        against = max(abs(ours), abs(frame), FLOOR * largest[kind])
        found.append(Comparison(name, kind, factored, ours, frame, abs(ours - frame) / against if against else 0.0))
    return found
