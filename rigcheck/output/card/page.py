"""The shop card as pages to print: the first is read at arm's length, then lists to tick, at last the sizes."""

from __future__ import annotations

import re

from rigcheck.output.card.first import TITLE, told_first
from rigcheck.output.card.screen import identity, tag_text
from rigcheck.output.card.sizes import shortened
from rigcheck.output.card.words import OVERLEAF, OVERLEAF_OVER, STANDING
from rigcheck.output.drawing.card import card_view
from rigcheck.output.html_page import facts, items, page, paragraph, table, words
from rigcheck.wording.plain import PlainView

_LINK, _LINE = 44, 190  # letters; longer names stand whole in the packet
_BLANK = re.compile(r"(?<=\d) (?=[\da-z])")


def card_html(card: PlainView, *, sheet: str = "") -> str:
    """The card as pages to print.

    Args:
        card: The card.
        sheet: Address of its style sheet where it is served; its style stands in it where not said.

    Returns:
        HTML; every value in it stands in the card.
    """
    lists = _lists(card)
    second = f'<section class="lists">{lists}</section>' if lists else ""
    body = f'<main>{_wall(card)}{second}<section class="sizes">{_sizes(card)}</section></main>'
    return page(f"Shop card: {card['title']}", body=body, kind="card", sheet=sheet)


def _wall(card: PlainView) -> str:
    """The first page: what hangs on the wall."""
    title = shortened(card["title"], most=TITLE)
    heading, few = told_first(card)
    worst = f"<h2>{words(heading)}</h2>{items(few)}" if few else ""
    told = "".join(
        f"<div><dt>{words(name)}</dt> <dd>{_figure(figure)}{words(text)}</dd></div>"
        for name, figure, text in card["points"]
    )
    below = paragraph(card["below"]) if card["below"] else ""
    stop = " stop" if card["below"] else ""
    never = "".join(f"<li>{words(text)}</li>" for text in card["never"])
    more = OVERLEAF if card["before_hang"] else OVERLEAF_OVER
    return (
        f'<section class="wall"><h1 dir="auto">{words(title)}</h1>'
        f'<div class="big{stop}"><p>{_tied(card["first"])}</p>{below}</div>{worst}'
        f'<div class="face"><figure>{card_view(card["drawing"])}</figure><dl>{told}</dl></div>'
        f"<h2>Never</h2><ol>{never}</ol>"
        f"<p><strong>{words(STANDING)}</strong> {words(more)}</p>{paragraph(identity(card, short=True))}</section>"
    )


def _figure(text: str) -> str:
    """The figure to remember, on a line of its own."""
    return f"<strong>{_tied(text)}</strong>" if text else ""


def _tied(text: str) -> str:
    """Words whose numbers stay with their fractions and units."""
    return words(_BLANK.sub("\u00a0", text))


def _lists(card: PlainView) -> str:
    """The second page: when to stop, and what to look at before a hang and before a haul."""
    if not card["before_hang"]:
        return ""
    empty = [("\u00a0", "", "")] * card["rechecks"]
    return (
        f"<h2>Stop when</h2>{items(card['stop'])}"
        f"<h2>Before each hang</h2>{items(card['before_hang'], kind='boxes')}"
        f"<h2>Before each haul</h2>{items(card['before_haul'], kind='boxes')}"
        + table(("Checked again on", "By", "Found"), rows=empty)
    )


def _sizes(card: PlainView) -> str:
    """The last page: the rig as it was checked, and the cautions in full."""
    tags = table(
        ("Link", "Look for"), rows=[(shortened(one["link"], most=_LINK), tag_text(one)) for one in card["tags"]]
    )
    steel = facts((name, text) for name, text in card["steel"])
    parts = (
        ("OVER", items(card["over"]) if card["over"] else ""),
        ("NOT assessed", items(card["not_assessed"]) if card["not_assessed"] else ""),
        ("The box as built", facts((name, text) for name, text in card["box"])),
        ("Least ratings on the tags", tags if card["tags"] else ""),
        ("Steel as checked; no less than this", steel if card["steel"] else ""),
        ("Folding", items(card["folding"]) if card["folding"] else ""),
        ("Road", items(card["road"]) if card["road"] else ""),
        ("Cautions", items(card["cautions"])),
    )
    title, source, headline, more = (
        words(shortened(text, most=_LINE)) for text in (card["title"], identity(card), card["headline"], card["more"])
    )
    columns = "".join(f"<section><h2>{words(heading)}</h2>{body}</section>" for heading, body in parts if body)
    return (
        f'<h2 dir="auto">{title}</h2><p>{source}</p>'
        f"<p><strong>{headline}</strong> {words(card['hang'])} {more}</p>"
        f'<div class="columns">{columns}</div>'
    )
