"""The screen of the study of one variable: answer, what stands in its way, plot, what governs where, table."""

from __future__ import annotations

from rigcheck.output.instructions import stop_words
from rigcheck.output.plot import LETTERS, plot
from rigcheck.output.rig_words import answer_style, opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent, state_word

CURVES = 6  # parts in the plot
LINES = 18  # values in the table
_TOP = 1.6  # upper edge of the plot


def length_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, found)
    page.line(f"varied: {found['vary']}, {found['meaning']}; in the case {number(found['now'], unit=found['unit'])}")
    page.line()
    for i, sentence in enumerate(found["answer"]):
        page.line(sentence, style=answer_style(found, over=not found["passes"]) if i == 0 else "")
    rig_line(page, found)
    _blockers(page, found)
    page.heading("What moves along", keep=7)
    page.items(("-", text) for text in found["rules"])
    chosen = _chosen(found)
    page.heading(f"Utilization against {found['vary']}, {found['unit'] or 'no unit'}")
    _plot(page, found, chosen=chosen)
    page.heading("What governs where", keep=10, least=3)
    page.items(("-", _reign(one, unit=found["unit"])) for one in found["governs"])
    page.heading("Values scanned", keep=9, least=3)
    _table(page, found, chosen=chosen)
    span = found["range"]
    page.line(f"{span['scanned']} values were scanned; a pocket narrower than the gap between them can be missed.")
    if found["not_assessed"]:
        page.heading("NOT ASSESSED, so not in any of this", keep=4)
        page.items(("-", text) for text in found["not_assessed"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["answer"][0], rest="--all adds: utilization drawn against the value, every value scanned.",
               style=answer_style(found, over=not found["passes"]))  # fmt: skip
    return page.text()


def _blockers(page: Page, found: PlainView) -> None:
    if not found["blockers"]:
        return
    page.heading("Over at every value of this range", keep=6)
    texts = []
    for one in found["blockers"]:
        if one["least_utilization"] is None and not one["touched"]:
            texts.append(("STOPS", f"{one['mode']} ({one['part']})"))
            continue
        use, place = percent(one["least_utilization"]), number(one["at"], unit=found["unit"])
        least = f"{use} at its least, at {place}" if one["touched"] else f"{use} throughout"
        texts.append(("-", f"{one['part']}, {one['mode']}: {least}, {state_word(one['state'])}"))
    page.items(texts)


def _chosen(found: PlainView) -> list[PlainView]:
    """Parts worth a curve: those that govern somewhere first, then the highest."""
    names = list(dict.fromkeys(one["part"] for one in found["governs"]))
    ordered = sorted(found["parts"], key=lambda one: names.index(one["part"]) if one["part"] in names else len(names))
    return ordered[:CURVES]


def _plot(page: Page, found: PlainView, *, chosen: list[PlainView]) -> None:
    curves = [one["utilization"] for one in chosen]
    for line in plot(found["values"], curves=curves, width=page.look.width, top=_TOP, line=1.0):
        page.line(line)
    ends = [number(found["range"][key], unit=found["unit"]) for key in ("from", "to")]
    page.line(" " * 8 + ends[0] + ends[1].rjust(max(page.look.width - 8 - len(ends[0]), len(ends[1]) + 1)))
    page.items((letter, one["part"]) for letter, one in zip(LETTERS, chosen, strict=False))


def _reign(one: PlainView, *, unit: str) -> str:
    low, high = number(one["from"], unit=unit), number(one["to"], unit=unit)
    place = f"at {low}" if low == high else f"{low} to {high}"
    stop = f"; stopped by {stop_words(one['stop'])}" if one["stop"] else ""
    return f"{place}: {one['part']}, {one['mode']}, {state_word(one['state'])}{stop}"


def _table(page: Page, found: PlainView, *, chosen: list[PlainView]) -> None:
    letters = LETTERS[: len(chosen)]
    columns = [Column(found["unit"] or "value", number=True), *(Column(letter, number=True) for letter in letters)]
    columns.append(Column("verdict", share=0))
    count = len(found["values"])
    step = max(1, -(-count // LINES))
    rows = []
    for k in range(0, count, step):
        uses = [percent(one["utilization"][k]) for one in chosen]
        stops = [one["code"] for one in found["stops"] if one["at"][k]]
        over = any((one["utilization"][k] or 0.0) > 1.0 or one["utilization"][k] is None for one in chosen)
        word = "stopped" if stops else "passes" if found["pass_at"][k] and not over else "over"
        rows.append(([number(found["values"][k]), *uses, word], "over" if word != "passes" else ""))
    page.table(columns, rows=rows)
