"""The screen of a fold: verdict, sentences, a plot in plain letters, the fold in steps, findings, cautions."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rigcheck.output.check.words import demand_allowable
from rigcheck.output.fold.words import HOLD_WORDS, deg
from rigcheck.output.rig_words import study_opening
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent

EVERY = 10.0  # degrees between the lines of the table
HEIGHT = 12  # lines of the plot
MARKS = {"held": "=", "held_from_behind": "<", "slack_inward": "s", "falls_outward": "v", "dead_point": "!"}


def fold_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen of a fold.

    Args:
        found: The result of the study, with its rows.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    study_opening(page, found)
    page.heading("Angles, weight and line", keep=18, least=6)
    page.items(("-", text) for text in _facts(found))
    page.heading(f"Pull of one line over the fold, with the factor, {found['units']['force']}")
    for line in plot(found, width=page.look.width):
        page.line(line)
    page.heading("Step by step (static)")
    _table(page, found)
    _checks(page, found)
    if found["findings"]:
        page.heading("Findings", keep=7)
        page.items(("STOPS" if one["stops"] else "-", one["text"]) for one in found["findings"])
    page.heading("Assumptions")
    page.items(("-", text) for text in found["assumptions"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: the pull over the fold drawn and step by step, assumptions.",
               style=found["alone"]["verdict"])  # fmt: skip
    return page.text()


def _leaning(between: Sequence[float]) -> str:
    """From where to where the balance point moves as the plant leans."""
    first, last = (deg(value) for value in between)
    return "" if first == last else f" on level ground, {first} to {last} as the plant leans"


def _facts(found: PlainView) -> list[str]:
    angles, line, pull, units = found["angles"], found["line"], found["pull"], found["units"]
    length, pitch = units["length"], found["pitch"]

    def angle(value: float) -> str:
        outside = "" if 0.0 <= value <= found["to"] else ", outside this fold"
        return f"{deg(value)} of fold (floor {deg(value - pitch)} above level{outside})"

    def most(value: float, unit: str = units["force"]) -> str:
        return number(value, unit=unit, rounding="up")

    s, n = (number(found["cg"][axis], unit=length) for axis in "sn")
    facts = [
        f"folded weight {most(found['weight'])}, center of gravity {s} from the hinge and {n} above the floor",
        f"lines through the hinge axis (dead center) at {angle(angles['dead_point'])}, however the plant leans",
        f"balance point (weight over the hinge) at {angle(angles['over_center'])}"
        f"{_leaning(angles['over_center_between'])}",
    ]
    if angles["slack"]:
        arc = f"; let go, it swings free through {deg(angles['free_arc'])}" if angles["free_arc"] else ""
        facts.append(f"lines slack from {deg(angles['slack'][0])} to {deg(angles['slack'][1])} of fold{arc}")
        facts.append(
            f"a snub line must hold {most(pull['snub'])} at least, {most(pull['snub_demand'])} with the factor and in a"
            " gust of `wind.hung`"
        )
    facts += [
        f"largest static pull {most(pull['largest'])} in each line worked together, "
        f"{most(pull['largest_alone'])} in one worked alone, at {deg(angles['largest_pull'])}",
        *(
            [f"worked on one line the box rolls up to {deg(angles['most_roll'])} on the way up"]
            if angles["most_roll"] is not None
            else []
        ),
        f"an error in where the perch stands changes a line's pull by up to "
        f"{most(pull['per_inch'], units['force_per_length'])} (at {deg(angles['most_sensitive'])})",
        f"line {number(line['deployed'], unit=length)} deployed, {number(line['folded'], unit=length)} folded, "
        f"{number(line['shortest'], unit=length, rounding='down')} at its shortest; "
        f"its links come to {number(line['least'], unit=length, rounding='up')} or more",
        _take_up(line, length=length),
        _gap(found["clearance"]["side_gap"], length=length),
    ]
    return facts


def _take_up(line: PlainView, *, length: str) -> str:
    text = f"take-up {number(line['take_up'], unit=length, rounding='up')}"
    if line["lift"] is None:
        return f"{text}; no hoist lift is given, re-rigs not counted"
    hooks = line["re_hooks"]
    many = "s" if hooks > 1 else ""
    word = "no re-rig" if hooks == 0 else f"{hooks} re-rig{many}, each with the box held otherwise"
    return f"{text} against {number(line['lift'], unit=length, rounding='down')} of lift: {word}"


def _gap(gap: float, *, length: str) -> str:
    if gap < 0.0:
        return f"posts or perch lugs stand {number(-gap, unit=length, rounding='up')} within the width of the box"
    return f"clearance from the box to a post or perch lug {number(gap, unit=length, rounding='down')} on each side"


def plot(found: PlainView, *, width: int) -> list[str]:
    """Pull over fold angle in plain letters, with what holds the box under it.

    Args:
        found: The result of the study, with its rows.
        width: Letters across.

    Returns:
        Lines; `*` is the pull, `-` what the weakest link allows.
    """
    key = "line_alone_demand" if found["one_line"] else "line_demand"
    rows: Sequence[PlainView] = found["rows"]
    margin = 9
    across = max(min(width - margin - 2, 100), 20)
    picked = [rows[round(i * (len(rows) - 1) / (across - 1))] for i in range(across)]
    values = [row[key] for row in picked]
    allowed = found["pull"]["allowed"]
    top = max([value for value in values if value is not None] + [1e-9])
    top = allowed if top <= allowed <= 2.0 * top else top
    grid = [[" "] * across for _ in range(HEIGHT)]

    def level(value: float) -> int:
        return HEIGHT - 1 - min(int(value / top * (HEIGHT - 1) + 0.5), HEIGHT - 1)

    if allowed <= top:
        grid[level(allowed)] = ["-"] * across
    for column, value in enumerate(values):
        if value is not None:
            grid[level(max(value, 0.0))][column] = "*"
    lines = []
    for i, cells in enumerate(grid):
        shown = i in (0, HEIGHT - 1) or (allowed <= top and i == level(allowed))
        limit = allowed <= top and i == level(allowed)
        value = allowed if limit else top * (HEIGHT - 1 - i) / (HEIGHT - 1)
        label = f"{_whole(value, up=not limit):,}" if shown else ""
        lines.append(f"{label:>{margin - 2}} |{''.join(cells)}".rstrip())
    lines.append(f"{'':{margin - 2}} |{''.join(MARKS[row['hold']] for row in picked)}")
    end = deg(found["to"])
    lines.append(f"{'':{margin - 2}}  0{end:>{across - 1}}")
    used = dict.fromkeys(row["hold"] for row in picked)
    legend = ", ".join(f"{MARKS[hold]} {HOLD_WORDS[hold]}" for hold in used)
    lines.append(f"* pull{', - weakest link allows' if allowed <= top else ''}; {legend}")
    return lines


def _whole(value: float, *, up: bool) -> int:
    """A label of the plot: the largest pull rounded up, what is allowed rounded down."""
    return math.ceil(value - 1e-9) if up else math.floor(value + 1e-9)


def _steps(found: PlainView) -> list[tuple[PlainView, str]]:
    """Rows every ten degrees and nearest the angles that matter, with what is there."""
    rows: Sequence[PlainView] = found["rows"]
    wanted: dict[int, str] = {}

    def nearest(angle: float, *, held: bool = False) -> int:
        among = [i for i, row in enumerate(rows) if not held or row["line"] is not None] or list(range(len(rows)))
        return min(among, key=lambda i: abs(rows[i]["fold"] - angle))

    for i in range(int(found["to"] // EVERY) + 1):
        wanted.setdefault(nearest(i * EVERY), "")
    wanted.setdefault(len(rows) - 1, "")
    angles = found["angles"]
    special = [(angles["largest_pull"], "largest pull"), (angles["dead_point"], "dead center"),
               (angles["over_center"], "balance point")]  # fmt: skip
    if not found["reachable"]:
        special.append((angles["reached"], "reached"))
    for angle, word in special:
        if 0.0 <= angle <= found["to"]:
            at = nearest(angle, held=word == "largest pull")
            wanted[at] = ", ".join(text for text in (wanted.get(at, ""), word) if text)
    return [(rows[i], wanted[i]) for i in sorted(wanted)]


def _table(page: Page, found: PlainView) -> None:
    force, length = found["units"]["force"], found["units"]["length"]
    columns = (Column("fold", number=True), Column("floor", number=True), Column(f"line {length}", number=True),
               Column(f"arm {length}", number=True), Column(f"both {force}", number=True),
               Column(f"alone {force}", number=True), Column("what holds it"))  # fmt: skip
    body = []
    for row, word in _steps(found):
        hold = HOLD_WORDS[row["hold"]]
        cells = [
            f"{row['fold']:.1f}",
            f"{row['floor']:.1f}",
            number(row["line_length"], digits=4),
            number(row["lever_arm"], digits=3),
            number(row["line"], rounding="up"),
            number(row["line_alone"], rounding="up"),
            f"{hold}; {word}" if word and word != hold else hold,
        ]
        body.append((cells, "" if row["kept"] else "over"))
    page.table(columns, rows=body)


def _checks(page: Page, found: PlainView) -> None:
    page.heading("Parts in the fold, the highest utilization first", keep=9, least=3)
    columns = (Column("Util.", number=True), Column("Verdict", number=True), Column("Part and mode", share=5),
               Column("Demand / allowable", share=4), Column("Fold", number=True))  # fmt: skip
    body = []
    for row in found["checks"][:8]:
        word = row["verdict"]
        fold = (row["variant"] or {}).get("fold_deg")
        cells = [
            percent(row["utilization"]),
            word.upper() if word == "over" else word.replace("_", " "),
            f"{row['part']}, {row['mode']}",
            demand_allowable(row),
            "-" if fold is None else f"{fold:.1f}",
        ]
        body.append((cells, word))
    page.table(columns, rows=body)
