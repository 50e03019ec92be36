"""The worked calculation on a screen: plain ASCII, each equation over the same with its numbers put in."""

from __future__ import annotations

from rigcheck.output.rig_words import opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.output.working.words import outcome
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import percent

_INDENT = "    "


def working_screen(result: PlainView, *, look: Look | None = None) -> str:
    """The whole calculation.

    Args:
        result: Of `working_result`.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, result)
    page.line()
    rig_line(page, result)
    page.line(result["how"])
    if not page.look.whole:
        page.heading("Worked out; `--part NAME` prints one, --all every one", keep=32)
        page.items((f"{number}.", _summary(section)) for number, section in enumerate(result["sections"], start=1))
    for number, section in enumerate(result["sections"], start=1):
        _section(page, section, number=number)
    page.heading("Cautions")
    page.items(("-", text) for text in result["cautions"])
    page.close(str(result.get("rig", result["title"])), rest="--all adds: every equation with its numbers and clause.",
               style=str(result.get("verdict", "")))  # fmt: skip
    return page.text()


def _summary(section: PlainView) -> str:
    """A section in one line: its part, what it works out and what that comes to."""
    use = "" if section["utilization"] is None or not section["steps"] else f", {percent(section['utilization'])}"
    return f"{section['part']}: {section['title']}{use}"


def _section(page: Page, section: PlainView, *, number: int) -> None:
    page.heading(f"{number}. {section['part'].upper()}: {section['title']}")
    page.line(section["intro"])
    if section["steps"] and section["verdict"] != "not_assessed":
        page.line(outcome(section), style=section["verdict"])
    for place, step in enumerate(section["steps"], start=1):
        _step(page, step, label=f"{number}.{place}")


def _step(page: Page, step: PlainView, *, label: str) -> None:
    page.line()
    page.line(f"{label} {step['heading']}")
    if step["note"]:
        page.items([("  ", step["note"])])
    if step["table"]:
        _table(page, step["table"])
    if step["terms"]:
        lead = max(len(one["symbol"]["text"]) for one in step["terms"])
        page.items(
            (f"   {one['symbol']['text']:<{lead}}", f"{one['meaning']}: {one['value']}") for one in step["terms"]
        )
    for text in _equations(step):
        for line in broken(text, width=page.look.width):
            page.line(line)
    if step["clause"]:
        page.items([("  ", f"[{step['clause']}]")])


def _equations(step: PlainView) -> list[str]:
    """Where it starts, the equation, the numbers put in, the answer, with the equals signs under each other."""
    found = [line["text"] for line in step["derivation"]]
    if step["equation"]:
        left, _, right = step["equation"]["text"].partition(" = ")
        blank = " " * len(left)
        found.append(f"{left} = {right}")
        if step["numbers"]:
            found.append(f"{blank} = {step['numbers']['text'].partition(' = ')[2]}")
        found.append(f"{blank} = {step['answer']}")
    return found


def _table(page: Page, table: PlainView) -> None:
    page.items([("  ", f"{table['caption']}:")])
    first, *rest = table["heads"]
    columns = (Column(first, share=1), *(Column(_two_lines(head), number=True) for head in rest))
    page.table(columns, rows=[(row, "") for row in table["rows"]])


def _two_lines(head: str) -> str:
    """A heading with its unit under it."""
    return head.replace(" [", "\n[")


def broken(text: str, *, width: int) -> list[str]:
    """An equation in lines of a width, broken before a sign, and at a product where there is none.

    Args:
        text: The equation.
        width: Letters of a line, the margin in it.

    Returns:
        Lines with their margin; the later ones begin under what follows the equals sign.
    """
    left, _, right = text.partition(" = ")
    hang = min(len(left) + 3, width // 3)
    room = max(width - len(_INDENT) - hang, 8)
    lines: list[str] = []
    for piece in _pieces(right, room=room):
        if lines and len(lines[-1]) + len(piece.rstrip()) <= room:
            lines[-1] += piece
        else:
            lines.append(piece)
    first = f"{_INDENT}{left} = "
    return [f"{' ' * (len(_INDENT) + hang) if place else first}{line.rstrip()}" for place, line in enumerate(lines)]


def _pieces(text: str, *, room: int) -> list[str]:
    """Parts of an expression that stay on one line: a sign with what follows it, a number with its degrees."""
    found: list[str] = []
    for word in text.split(" "):
        sign = found and found[-1].strip() in ("+", "-")
        if sign or word.startswith("deg"):
            found[-1] += f"{word} "
        else:
            found.append(f"{word} ")
    whole: list[str] = []
    for piece in found:
        parts = piece.split("*") if len(piece.rstrip()) > room else [piece]
        whole += [f"{part}*" for part in parts[:-1]] + [parts[-1]]
    return whole
