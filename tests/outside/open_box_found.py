"""What the shell models give: line, hinge, stress of both rails, torque of each member across, roll.

Fibers of a rail, at the middle of each bay of the mesh: top, N/A - M c/I of the stiffener, M the bending up and down;
inner and outer, the same at its top corners toward the box and away from it, with its bending sideways, for the
thin wall holds the foot of a rail but not its top; foot, the membrane stress of the wall extrapolated to its foot.

Two things in them no beam theory has and no mesh settles: the peak where a lug brings the line into a tube and a thin
wall, and the couple that each member across gives to the foot of the wall over its own width. So the nominal stress of
a rail is told: in the middle third of each panel between two members across, unless the hanger is nearer to its middle
than half the lug and half the side height; and at the hanger what two panels uphill give on a straight line, and
downhill what the first panel gives, in the proportion of the moment of that half of the box just downhill of the hanger
to that in the panel. (A parabola through two panels from nothing at the tail, as it was once read, multiplies what the
last panel has of the box's own end: it told 1,939 psi of the foot of bracken-cut, whose panels have 690 psi under
0.6 of the moment, and 994 psi downhill on adder-run between 3,314 psi in the panel and the hanger.) Force and moment
of each half of the box (wall, stiffener, half the floor) are told beside it; they obey statics.
"""

import math
from dataclasses import dataclass

import numpy as np

from tests.outside.open_box_shell import SIDES, Shell

FIBERS = ("top", "inner", "outer", "foot")


@dataclass(frozen=True)
class Found:
    """What a model gives in one state; left is the side of the line.

    Attributes:
        tension: Pull of the line. [lbf]
        hinge: Force of the plant on the box along s and n at left and right. [lbf]
        station: Middles of the bays, shape (bay,). [in]
        top: Stress of the stiffener's top fiber, left and right, shape (2, bay). [psi]
        inner: Stress of its top corner toward the box, shape (2, bay). [psi]
        outer: Stress of its top corner away from the box, shape (2, bay). [psi]
        foot: Stress of the wall at its foot, shape (2, bay). [psi]
        torque: Name to torque of each member across in its middle. [lbf in]
        torque_end: The same at its worse end, where at the head the hinge has come in below. [lbf in]
        force: Pull along each half of the box, shape (2, bay). [lbf]
        moment: Bending of each half about the floor's middle surface, sagging positive, shape (2, bay). [lbf in]
        panels: Stations of the members across. [in]
        bay: Length of each bay. [in]
        length: Of the box. [in]
        shortest: A panel no longer than this is all disturbed. [in]
        line: Mesh lines along the box. [in]
        roll: Turn of the box about its length at each mesh line, right side down positive, shape (line,). [rad]
        near: What is closer to the hanger than this is not nominal. [in]
        at: Station of the hanger. [in]
    """

    tension: float
    hinge: np.ndarray
    station: np.ndarray
    top: np.ndarray
    inner: np.ndarray
    outer: np.ndarray
    foot: np.ndarray
    force: np.ndarray
    moment: np.ndarray
    torque: dict[str, float]
    torque_end: dict[str, float]
    panels: np.ndarray
    bay: np.ndarray
    length: float
    shortest: float
    line: np.ndarray
    roll: np.ndarray
    near: float
    at: float

    def nominal(self, fiber: np.ndarray, *, moment: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Nominal stress of one fiber: in the middle of each panel, then just uphill and downhill of the hanger."""
        stations, values = [], []
        for low, high in zip(self.panels[:-1], self.panels[1:], strict=True):
            middle = 0.5 * (low + high)
            here = np.abs(self.station - middle) < (high - low) / 6.0 + 1e-9
            if abs(middle - self.at) > self.near and high - low > self.shortest and np.any(here):
                stations.append(middle)
                values.append(float(np.average(fiber[here], weights=self.bay[here])))
        s, found = np.array(stations), np.array(values)
        up, down = np.flatnonzero(s < self.at)[-2:], int(np.flatnonzero(s > self.at)[0])
        ahead = [found[up][1] + np.diff(found[up])[0] / np.diff(s[up])[0] * (self.at - s[up][1])]
        between = moment[(self.station > self.at) & (self.station < s[down])]
        most = between[np.argmax(np.abs(between))]
        behind = [float(found[down] * most / np.interp(s[down], self.station, moment))]
        return np.append(s, [self.at - 1e-3, self.at + 1e-3]), np.concatenate([found, ahead, behind])

    def worst(self, fibers: np.ndarray, side: int) -> tuple[float, float]:
        """Largest nominal stress of one fiber of a rail with its sign, and where. [psi], [in]"""
        stations, means = self.nominal(fibers[side], moment=self.moment[side])
        k = int(np.argmax(np.abs(means)))
        return float(means[k]), float(stations[k])


def _end_forces(shell: Shell, name: str, combo: str) -> np.ndarray:
    (member,) = shell.model.members[name].sub_members.values()
    return np.asarray(member.f(combo)).ravel()


def _resultants(shell: Shell, combo: str) -> tuple[np.ndarray, np.ndarray]:
    """Pull and bending moment of each half of the box in every bay, about the middle of the floor sheet."""
    box, model, tube = shell.box, shell.model, shell.box.stiffener
    bays = len(shell.stations) - 1
    force, moment = np.zeros((2, bays)), np.zeros((2, bays))
    middle = 0.5 * (shell.across[1:] + shell.across[:-1])
    point = 1.0 / math.sqrt(3.0)
    for i in range(bays):
        for j, y in enumerate(middle):
            along = float(np.ravel(model.quads[f"floor{i},{j}"].membrane(combo_name=combo))[0])
            pull = along * box.sheet * (shell.across[j + 1] - shell.across[j])
            left = 1.0 if y > 1e-6 else 0.0 if y < -1e-6 else 0.5
            force[:, i] += pull * np.array([left, 1.0 - left])
        for row, name in enumerate(SIDES):
            for k in range(len(shell.up) - 1):
                low, high = shell.up[k], shell.up[k + 1]
                for eta in (-point, point):
                    along = float(np.ravel(model.quads[f"{name} wall{i},{k}"].membrane(0.0, eta, combo_name=combo))[0])
                    pull = along * box.side_sheet * 0.5 * (high - low)
                    force[row, i] += pull
                    moment[row, i] -= pull * (0.5 * (low + high) + eta * 0.5 * (high - low) - shell.foot)
            if tube:
                f = _end_forces(shell, f"{name} stiffener {i}", combo)
                n = model.nodes[f"S{SIDES[name]:+.0f},{i}"].Y - shell.foot
                force[row, i] += f[6]
                moment[row, i] += 0.5 * (f[11] - f[5]) - f[6] * n
    return force, moment


def _fibers(shell: Shell, combo: str) -> dict[str, np.ndarray]:
    """Stress of the fibers of both rails in every bay."""
    tube, model, bays = shell.box.stiffener, shell.model, len(shell.stations) - 1
    found = {name: np.zeros((2, bays)) for name in FIBERS}
    for row, (name, side) in enumerate(SIDES.items()):
        for i in range(bays):
            foot = model.quads[f"{name} wall{i},0"].membrane(0.0, -1.0, combo_name=combo)
            found["foot"][row, i] = float(np.ravel(foot)[0])
            if tube is None:
                edge = model.quads[f"{name} wall{i},{len(shell.up) - 2}"].membrane(0.0, 1.0, combo_name=combo)
                for one in ("top", "inner", "outer"):
                    found[one][row, i] = float(np.ravel(edge)[0])
                continue
            f = _end_forces(shell, f"{name} stiffener {i}", combo)
            top = f[6] / tube.area - 0.5 * (f[11] - f[5]) * (tube.depth - tube.centroid) / tube.upright
            # local z is -y, so that the side toward the box is +z on the left rail
            turn = side * 0.5 * (f[10] - f[4]) * 0.5 * tube.width / tube.flat
            found["top"][row, i], found["inner"][row, i], found["outer"][row, i] = top, top + turn, top - turn
    return found


def results(shell: Shell, combo: str) -> Found:
    """Read one state off a solved model."""
    box, s, model = shell.box, shell.stations, shell.model
    torque, torque_end = {}, {}
    last = len(shell.across) - 2
    for cross in box.crosses:
        ends = [_end_forces(shell, f"{cross.name} {j}", combo)[9] for j in (0, last)]
        torque_end[cross.name] = float(max(ends, key=abs))
        torque[cross.name] = float(_end_forces(shell, f"{cross.name} {(last + 1) // 2}", combo)[9])
    left, right = len(shell.across) - 1, 0
    sink = np.array([[model.nodes[shell.floor(i, j)].DY[combo] for j in (left, right)] for i in range(len(s))])
    held = [model.nodes[f"{name} hinge"] for name in SIDES]
    line = _end_forces(shell, "line", combo)
    force, moment = _resultants(shell, combo)
    return Found(
        tension=float(line[6]),
        hinge=np.array([[node.RxnFX[combo], node.RxnFY[combo]] for node in held]),
        station=0.5 * (s[1:] + s[:-1]),
        **_fibers(shell, combo),
        force=force,
        moment=moment,
        torque=torque,
        torque_end=torque_end,
        panels=np.array([at for at, _ in shell.joints]),
        bay=np.diff(s),
        length=box.length,
        shortest=3.0 * max(one[0].section.width for _, one in shell.joints),
        line=s,
        roll=(sink[:, 0] - sink[:, 1]) / (2.0 * shell.half),
        near=0.5 * box.lug + 0.5 * box.side,
        at=box.hanger[0],
    )
