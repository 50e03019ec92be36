"""Solve the shell models of every open box and record what they give: ``python -m tests.outside.open_box_run``.

Ten boxes of tests/outside/boxes/, five of them with the sizes that shipped cases had, running and at clean-out with the
person at the tail beside the line, on one line. Each is solved twice, with members across fixed to the rails at their
ends alone and with the floor welded to them all along, since a case file does not say which; the first is the one the
engine is held to. One box is solved once more at half the size of element. Ten minutes of one processor, under 1 GB.
Nothing in the data is typed.
"""

import argparse
import importlib.metadata
import sys

import numpy as np

from tests.outside.open_box_case import HALVED, MESH, RECORD, files, read_box
from tests.outside.open_box_found import FIBERS, Found, results
from tests.outside.open_box_shell import COMBOS, build, solve

HEADING = """# Shell models of open boxes on one line; written by `python -m tests.outside.open_box_run`.
# Static loads without factor, plant level. Units in, lbf, psi, rad. See open_box_shell.py.

"""


def _list(values: np.ndarray, digits: int) -> str:
    return "[" + ", ".join(f"{value:.{digits}f}" for value in np.ravel(values)) + "]"


def entry(found: Found, *, box: str, state: str, joint: str, mesh: float) -> str:
    """One model in one state as a table of the record."""
    lines = ["[[model]]", f'box = "{box}"', f'state = "{state}"', f'joint = "{joint}"', f"mesh = {mesh}"]
    lines.append(f"tension = {found.tension:.2f}")
    for row, side in enumerate(("left", "right")):
        lines.append(f"hinge_{side} = {_list(found.hinge[row], 2)}")
        for name in FIBERS if joint == "ends" else ():  # of the other, what the members and the line do alone
            fibers = getattr(found, name)
            value, at = found.worst(fibers, row)
            lines.append(f"{name}_{side} = {_list(np.array([value, at]), 1)}")
            stations, values = found.nominal(fibers[row], moment=found.moment[row])
            lines.append(f"{name}_{side}_panels = {_list(values[:-2], 0)}")
    if joint == "ends":
        lines.append(f"panels = {_list(stations[:-2], 2)}")
        lines += [f"{name}_raw = {float(np.abs(getattr(found, name)).max()):.0f}" for name in FIBERS]
    lines.append(f"roll_hanger = {float(np.interp(found.at, found.line, found.roll)):.6f}")
    lines.append(f"roll_tail = {float(found.roll[-1]):.6f}")
    lines.append(f"members = {list(found.torque)}".replace("'", '"'))
    lines.append(f"torque = {_list(np.array(list(found.torque.values())), 0)}")
    lines.append(f"torque_end = {_list(np.array(list(found.torque_end.values())), 0)}")
    return "\n".join(lines) + "\n"


def record(mesh: float, only: list[str]) -> str:
    """Solve everything and return the record.

    Args:
        mesh: Largest element. [in]
        only: Names of boxes; all of them where empty.
    """
    versions = {name: importlib.metadata.version(name) for name in ("PyNiteFEA", "numpy", "scipy")}
    parts = [HEADING]
    parts += ["[versions]\n", *(f'{name} = "{version}"\n' for name, version in versions.items()), "\n"]
    for path in files():
        if only and path.stem not in only:
            continue
        tries = [("ends", mesh), ("floor", mesh)] + ([("ends", 0.5 * mesh)] if path.stem == HALVED else [])
        for joint, size in tries:
            shell = build(read_box(path), size=size, welded_floor=joint == "floor")
            solve(shell)
            for state in COMBOS:
                parts.append(entry(results(shell, state), box=path.stem, state=state, joint=joint, mesh=size) + "\n")
            print(f"{path.stem}, {joint}, {size} in: {len(shell.model.quads)} shells", file=sys.stderr)
    return "".join(parts)[:-1]


def main() -> None:
    """Write the record, or part of it to look at."""
    parser = argparse.ArgumentParser(description="Solve the shell models of open boxes.")
    parser.add_argument(
        "box", nargs="*", help="boxes to solve and print; the whole record is written where none is named"
    )
    parser.add_argument("--mesh", type=float, default=MESH, help="largest element in inches")
    asked = parser.parse_args()
    found = record(asked.mesh, asked.box)
    if asked.box:
        print(found)
    else:
        RECORD.write_text(found, encoding="utf-8")


if __name__ == "__main__":
    main()
