"""The first screen of a check: verdict, why, what fixes it, the highest of each part, what is missing, what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigcheck.analysis.rows import LEGAL
from rigcheck.output.bed_words import bed_paragraph
from rigcheck.output.check.why import closing, why
from rigcheck.output.check.words import demand_allowable
from rigcheck.output.instructions import IN_FULL, TODO, stop_words
from rigcheck.output.rig_words import identity_words
from rigcheck.output.screen import Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import case_word, percent

REST = "Everything: --all. Engineer: `rigcheck report`. Shop wall: `rigcheck card`."
_USE, _WORD, _NUMBERS, _CASE = 7, 5, 19, 15  # letters of the columns beside part and mode
_PARTS = 10


def first_screen(page: Page, result: PlainView) -> None:
    """Put the first screen of a check on a page.

    Args:
        page: Takes it; it cuts to one screen what is too long.
        result: The result.
    """
    width = page.look.width
    page.line(_cut(result["title"], width), style="head")
    page.line(_cut(source_line(result), width))
    page.line()
    page.line(result["headline"], style=result["verdict"])
    page.line()
    for sentence in why(result, counted=False):
        page.line(sentence)
    _fixes(page, result)
    page.heading(
        _row_text("HIGHEST UTILIZATION OF EACH PART", "demand / allowable", "load case", width), keep=12, least=8
    )
    for row in _highest(result["checks"])[:_PARTS]:
        page.line(_row(row, width=width), style=row["verdict"])
    if result["bed_mark"]:
        page.part(keep=5)
        page.line(bed_paragraph(result["bed_mark"]))
    for text in dict.fromkeys(one["text"] for one in result["findings"] if one["code"] in IN_FULL):
        page.part(keep=3)
        page.line(f"{text[:1].upper()}{text[1:]}.")
    if result["confirm"] and result["confirm"].get("text"):
        page.part(keep=5)
        page.line(result["confirm"]["text"])
    if result["not_assessed"]:
        page.heading("NOT ASSESSED", keep=6)
        page.items(("-", text) for text in result["not_assessed"])
    _to_do(page, result["findings"])
    page.close(closing(result), rest=REST, style=result["verdict"])


def source_line(result: PlainView) -> str:
    """File, hash, revision, hand and basis of a result."""
    basis = {"lifting": "BTH-1", "frame": "AISC ASD"}[result["basis"]]
    return "; ".join([*identity_words(result), f"design basis: {basis}"])


def fixes(remedies: Sequence[PlainView], *, tacked: bool = False) -> Iterator[tuple[str, list[str]]]:
    """What fixes a rig that is over, and what does not fix it alone: headings with their entries."""
    if tacked:
        yield "FIXES IT", ["lay the welds that are over before it hangs: tacks do not hold them"]
        return
    good = [
        f"{_changes(one)}: then {_then(one)} is the highest"
        for one in remedies
        if one["cures"] and one["counted"] == "check"
    ]
    others = [
        f"{_changes(one)}: by `rigcheck {one['counted']}` alone, a check goes on without it"
        if one["cures"]
        else f"{_changes(one)}: leaves {_then(one)}"
        for one in remedies
        if not one["cures"] or one["counted"] != "check"
    ]
    if good:
        yield "FIXES IT (each by a whole check, fewest changes first)", good
    else:
        yield "FIXES IT", ["nothing tried does: several things must change at once, or the layout"]
    if others:
        yield "Does not fix it alone", others


def _fixes(page: Page, result: PlainView) -> None:
    tacked = any(one["code"] == "tacked" for one in result["findings"])
    every = fixes(result["remedies"] or (), tacked=tacked) if "remedies" in result else ()
    for place, (heading, texts) in enumerate(every):
        page.heading(heading, keep=4 if place else 7)
        page.items(("-", text) for text in texts)


def _changes(one: PlainView) -> str:
    text = ", and ".join(one["changes"])
    return text[:1].upper() + text[1:]


def _then(one: PlainView) -> str:
    stops = "".join(f"; {stop_words(code)}" for code in one["stops"])
    return f"{one['part']} at {percent(one['highest_utilization'])}{stops}"


def _highest(rows: Sequence[PlainView]) -> list[PlainView]:
    """The worst row of each part, the highest first; legal height and width stand outside of the ranking."""
    found: dict[str, PlainView] = {}
    for row in rows:
        if row["group"] != LEGAL:
            found.setdefault(row["part"], row)
    return list(found.values())


def _row(row: PlainView, *, width: int) -> str:
    word = "OVER" if row["verdict"] == "over" else "tight" if row["verdict"] == "tight" else ""
    use = f"{percent(row['utilization']):>{_USE}} {word:{_WORD}}"
    part, mode = row["part"], f"{row['part']}: {row['mode']}"
    name = mode if len(f"{use} {mode}") < _room(width) else part
    return _row_text(f"{use} {name}", demand_allowable(row), case_word(row, short=True), width)


def _room(width: int) -> int:
    """Letters for utilization and name."""
    return width - _NUMBERS - _CASE - 2


def _row_text(first: str, numbers: str, case: str, width: int) -> str:
    room = _room(width)
    return f"{_cut(first, room - 1):{room}}{numbers:>{_NUMBERS}}  {case}"


def _to_do(page: Page, findings: Sequence[PlainView]) -> None:
    todo = dict.fromkeys(TODO.get(one["code"], one["text"]) for one in findings)
    if todo:
        page.heading("WHAT TO DO", keep=9)
        page.items(("-", text) for text in todo)


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 3]}..."
