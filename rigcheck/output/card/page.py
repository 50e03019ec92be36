"""The shop card as text for the terminal and as one printed page; both read only the card's dict."""

from __future__ import annotations

from rigcheck.output.drawing.side import side_view
from rigcheck.output.html_page import facts, figure, items, page, table, words
from rigcheck.output.rig_words import file_words
from rigcheck.output.screen import Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

_BLANK = "_" * 14


def card_screen(card: PlainView, *, look: Look | None = None) -> str:
    """The card as plain text.

    Args:
        card: The card.
        look: Width and color.

    Returns:
        Text; every value in it stands in the card.
    """
    screen = Page(look or Look())
    screen.line(f"SHOP CARD: {card['title']}", style="head")
    screen.line(identity(card))
    screen.line()
    screen.line(card["headline"], style=card["verdict"])
    screen.line(card["hang"])
    screen.line()
    screen.line(card["first"].upper(), style="head")
    if card["second"]:
        screen.line(card["second"])
    screen.line(keep_out(card), style="head")
    for heading, texts in (("OVER", card["over"]), ("NOT assessed", card["not_assessed"])):
        if texts:
            screen.heading(heading, keep=5)
            screen.items(("-", text) for text in texts)
    screen.heading("The box as built", keep=7)
    screen.items((f"{name}:", text) for name, text in card["box"])
    if card["tags"]:
        screen.heading("Least ratings on the tags", keep=6, least=2)
        screen.items((f"{one['link']}:", tag_text(one)) for one in card["tags"])
    if card["steel"]:
        screen.heading("Steel as checked; no less than this")
        screen.items((f"{name}:", text) for name, text in card["steel"])
    for heading, texts, mark, keep in (
        ("Folding", card["folding"], "-", 5),
        ("Road", card["road"], "-", 0),
        ("Never", card["never"], "-", 8),
        ("Stop when", card["stop"], "-", 4),
        ("Before each hang", card["before_hang"], "[ ]", 0),
        ("Before each haul", card["before_haul"], "[ ]", 0),
    ):
        if texts:
            screen.heading(heading, keep=keep, least=2)
            screen.items((mark, text) for text in texts)
    screen.heading("Checked again (date, by whom, what was found)")
    for _ in range(card["rechecks"]):
        screen.line(f"{_BLANK}  {_BLANK}  {_BLANK}")
    screen.heading("Cautions")
    screen.items(("-", text) for text in card["cautions"])
    rest = "--all adds the lists before a hang and a haul; `-o FILE.html` writes the page."
    screen.close(f"{card['headline']}; {card['first']}", rest=rest, style=card["verdict"])
    return screen.text()


def card_html(card: PlainView, *, sheet: str = "") -> str:
    """The card as one page to print.

    Args:
        card: The card.
        sheet: Address of its style sheet where it is served; its style stands in it where not said.

    Returns:
        HTML; every value in it stands in the card.
    """
    picture, caption = side_view(card["drawing"], bare=True)
    tags = table(("Link", "Look for"), rows=[(one["link"], tag_text(one)) for one in card["tags"]])
    empty = [("\u00a0", *[""] * 5)] * ((card["rechecks"] + 1) // 2)
    blank = table(("Checked again on", "By", "Found", "Checked again on", "By", "Found"), rows=empty)
    steel = facts((name, text) for name, text in card["steel"])
    first = (
        _part("OVER", items(card["over"]) if card["over"] else "")
        + _part("NOT assessed", items(card["not_assessed"]) if card["not_assessed"] else "")
        + figure(picture, caption=caption)
        + _part("The box as built", facts((name, text) for name, text in card["box"]))
        + _part("Least ratings on the tags", tags if card["tags"] else "")
        + _part("Steel as checked; no less than this", steel if card["steel"] else "")
        + _part("Folding", items(card["folding"]) if card["folding"] else "")
        + _part("Road", items(card["road"]) if card["road"] else "")
    )
    then = (
        _part("Never", items(card["never"]))
        + _part("Stop when", items(card["stop"]) if card["stop"] else "")
        + _part("Before each hang", items(card["before_hang"], kind="boxes") if card["before_hang"] else "")
        + _part("Before each haul", items(card["before_haul"], kind="boxes") if card["before_haul"] else "")
    )
    second = f' <span class="note">{words(card["second"])}</span>' if card["second"] else ""
    body = (
        f'<main><h1 dir="auto">{words(card["title"])}</h1><p class="note">{words(identity(card))}</p>'
        f"<p><strong>{words(card['headline'])}</strong> {words(card['hang'])}</p>"
        f'<p class="big">{words(card["first"])}{second}<br>{words(keep_out(card))}</p>'
        f'<div class="columns">{first}{then}</div>'
        f"<footer>{blank}{_part('Cautions', items(card['cautions']))}</footer></main>"
    )
    return page(f"Shop card: {card['title']}", body=body, kind="card", sheet=sheet)


def identity(card: PlainView) -> str:
    """File, hash, revision and hand."""
    parts = file_words(card)
    parts.append(f"revision {card['revision'] or 'not given'}")
    parts.append(f"entered by: {card['by'] or 'not given'}")
    return "; ".join(parts)


def keep_out(card: PlainView) -> str:
    """How far everybody stays away."""
    reach = number(card["keep_out"], unit=card["units"]["length"], rounding="up")
    return f"Keep out: {reach} all round the hinge while anything hangs or moves."


def tag_text(one: PlainView) -> str:
    """What to look for on a link."""
    text = f"{one['text']}; {one['more']}" if one["more"] else str(one["text"])
    return f"{one['count']} of them, each: {text}" if one["count"] > 1 else text


def _part(heading: str, body: str) -> str:
    """A part of the page; none where it has nothing in it."""
    return f"<section><h2>{words(heading)}</h2>{body}</section>" if body else ""
