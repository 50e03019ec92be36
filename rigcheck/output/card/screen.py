"""The shop card as text for the terminal; it reads only the card's dict."""

from __future__ import annotations

from rigcheck.output.card.first import NAME
from rigcheck.output.card.sizes import shortened
from rigcheck.output.rig_words import file_words
from rigcheck.output.screen import Look, Page
from rigcheck.wording.plain import PlainView

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
    for text in (card["below"], card["more"]):
        if text:
            screen.line(text)
    screen.items((f"{name}:", f"{figure} {text}".strip()) for name, figure, text in card["points"])
    for heading, texts in (("OVER", card["over"]), ("NOT assessed", card["not_assessed"])):
        if texts:
            screen.heading(heading, keep=14, least=3)
            screen.items(("-", text) for text in texts)
    screen.heading("The box as built")
    screen.items((f"{name}:", text) for name, text in card["box"])
    if card["tags"]:
        screen.heading("Least ratings on the tags", keep=9, least=2)
        screen.items((f"{one['link']}:", tag_text(one)) for one in card["tags"])
    if card["steel"]:
        screen.heading("Steel as checked; no less than this")
        screen.items((f"{name}:", text) for name, text in card["steel"])
    for heading, texts, mark, keep, least in (
        ("Folding", card["folding"], "-", 0, 0),
        ("Road", card["road"], "-", 0, 0),
        ("Never", card["never"], "-", 9, len(card["never"])),
        ("Stop when", card["stop"], "-", 5, 1),
        ("Before each hang", card["before_hang"], "[ ]", 0, 0),
        ("Before each haul", card["before_haul"], "[ ]", 0, 0),
    ):
        if texts:
            screen.heading(heading, keep=keep, least=least)
            screen.items((mark, text) for text in texts)
    screen.heading("Checked again (date, by whom, what was found)")
    for _ in range(card["rechecks"]):
        screen.line(f"{_BLANK}  {_BLANK}  {_BLANK}")
    screen.heading("Cautions")
    screen.items(("-", text) for text in card["cautions"])
    rest = "--all adds the lists before a hang and a haul; `-o FILE.html` writes the page."
    screen.close(f"{card['headline']}; {card['first']}", rest=rest, style=card["verdict"])
    return screen.text()


def identity(card: PlainView, *, short: bool = False) -> str:
    """File, hash, revision and hand; in short for the page that is read at arm's length."""
    parts = file_words(card)
    if short:
        source = card["input"]
        parts = [f"{shortened(source['file'], most=NAME)}, sha256 {source['sha256'][:8]}"] if source else []
        return "; ".join([*parts, f"revision {shortened(card['revision'] or 'not given', most=12)}"])
    parts.append(f"revision {card['revision'] or 'not given'}")
    parts.append(f"entered by: {card['by'] or 'not given'}")
    return "; ".join(parts)


def tag_text(one: PlainView) -> str:
    """What to look for on a link."""
    text = f"{one['text']}; {one['more']}" if one["more"] else str(one["text"])
    return f"{one['count']} of them, each: {text}" if one["count"] > 1 else text
