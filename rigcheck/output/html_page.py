"""Pieces of a page as HTML: tables, figures, sections, the whole file; every text that comes in is escaped."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from rigcheck.output.html_style import STYLE

_STACKED = 4  # tables of this many columns or more become cards on a phone
_SHORT = 9  # tables of this many rows or fewer stay on one page of paper
_FOOT = 64  # letters of a title at the foot of a printed page


def words(text: object) -> str:
    """Any text, escaped."""
    return escape(str(text), quote=True)


def paragraph(text: str, *, kind: str = "") -> str:
    """One paragraph."""
    return f"<p{_class(kind)}>{words(text)}</p>"


def items(texts: Iterable[str], *, kind: str = "") -> str:
    """A list."""
    return f"<ul{_class(kind)}>{''.join(f'<li>{words(text)}</li>' for text in texts)}</ul>"


def table(
    heads: Sequence[str],
    *,
    rows: Iterable[Sequence[str]],
    caption: str = "",
    numbers: Sequence[int] = (),
    marked: Sequence[int] = (),
) -> str:
    """A table; wide ones turn into cards on a phone.

    Args:
        heads: Headings of the columns.
        rows: Plain texts.
        caption: What the table holds.
        numbers: Columns set flush right.
        marked: Rows set in bold.

    Returns:
        HTML.
    """
    rows = list(rows)
    stacked = " ".join(kind for kind, on in (("stack", len(heads) >= _STACKED), ("whole", len(rows) <= _SHORT)) if on)
    flush = ["number" if i in numbers else "" for i in range(len(heads))]
    head = "".join(f'<th scope="col"{_class(kind)}>{words(one)}</th>' for one, kind in zip(heads, flush, strict=True))
    body = []
    for place, row in enumerate(rows):
        cells = []
        for i, text in enumerate(row):
            tag = 'th scope="row"' if i == 0 else "td"
            label = f' data-label="{words(heads[i])}"' if i else ""
            kind = f"{flush[i]} loose" if flush[i] and "\n" in text else flush[i]  # words under a number may wrap
            cells.append(f"<{tag}{_class(kind)}{label}>{_lines(text)}</{tag.split()[0]}>")
        body.append(f"<tr{_class('marked' if place in marked else '')}>{''.join(cells)}</tr>")
    title = f"<caption>{words(caption)}</caption>" if caption else ""
    return (
        f'<div class="wide"><table{_class(stacked)}>{title}<thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(body)}</tbody></table></div>"
    )


def facts(pairs: Iterable[tuple[str, str]]) -> str:
    """Names with their values."""
    rows = (f"<div><dt>{words(name)}</dt><dd>{_lines(value)}</dd></div>" for name, value in pairs)
    return f'<dl class="facts">{"".join(rows)}</dl>'


def figure(picture: str, *, caption: str, label: str = "", kind: str = "") -> str:
    """A picture that is HTML already, with its caption; `label` is the text alternative of one that has none."""
    named = f' role="img" aria-label="{words(label)}"' if label else ""
    return f"<figure{_class(kind)}><div{named}>{picture}</div><figcaption>{words(caption)}</figcaption></figure>"


def section(name: str, *, heading: str, body: str, kind: str = "") -> str:
    """A section of a page with its heading."""
    return f'<section id="{words(name)}"{_class(kind)}><h2>{words(heading)}</h2>{body}</section>'


def running(title: str, *, mark: str) -> str:
    """Style that prints a title, a mark and the number of the page at the foot of every page of paper.

    Args:
        title: Any text; what is no plain letter stands as its code, so that it stays text within a style.
        mark: What tells this run from others.
    """
    short = title if len(title) <= _FOOT else f"{title[: _FOOT - 3]}..."
    return (
        f"@page{{@bottom-left{{content:{_quoted(short)}}}@bottom-center{{content:{_quoted(mark)}}}"
        '@bottom-right{content:"page " counter(page) " of " counter(pages)}}'
    )


def running_head(name: str, heading: str) -> str:
    """Style that prints the heading of a section at the head of every page of paper that it fills.

    Args:
        name: Id of the section; it begins on a new page.
        heading: Any text.
    """
    plain = "".join(letter for letter in name if letter.isalnum())
    return f"@page {plain}{{@top-right{{content:{_quoted(heading)}}}}}#{plain}{{page:{plain}}}"


def _quoted(text: str) -> str:
    """Any text as a string of a style sheet."""
    told = "".join(one if one.isascii() and (one.isalnum() or one in " .,:-") else f"\\{ord(one):06x}" for one in text)
    return f'"{told}"'


def page(title: str, *, body: str, kind: str = "report", style: str = "", sheet: str = "") -> str:
    """A whole file that needs nothing else: no script, no font, no picture from elsewhere.

    Args:
        title: Of the page.
        body: HTML.
        kind: Class of the body.
        style: Further style.
        sheet: Address of a style sheet that holds `STYLE`, for a page that is served and may hold no style of its own.
    """
    policy = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
    look = f"{policy}<style>{STYLE}{style}</style>" if not sheet else f'<link rel="stylesheet" href="{words(sheet)}">'
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{words(title)}</title>{look}</head>"
        f'<body class="{words(kind)}">{body}</body></html>\n'
    )


def _class(kind: str) -> str:
    return f' class="{words(kind)}"' if kind else ""


def _lines(text: str) -> str:
    return "<br>".join(words(line) for line in str(text).split("\n"))
