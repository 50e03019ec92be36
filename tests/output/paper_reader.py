"""Lay pages out for paper and for a phone in a real browser, and measure them: type, height, what sticks out, pages."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from tests.page.browsing import browser

PAPERS = {"letter": (8.5 * 96.0, 11.0 * 96.0), "A4": (210.0 / 25.4 * 96.0, 297.0 / 25.4 * 96.0)}
"""Width and height of a sheet. [px]"""
PHONE = (390, 844)
_POINT = 0.75  # of a pixel of a style sheet
_MEASURE = """(part) => {
  const found = {type: 1e9, small: '', height: part.scrollHeight, out: []}, edge = part.getBoundingClientRect()
  const walk = document.createTreeWalker(part, NodeFilter.SHOW_TEXT)
  for (let node; node = walk.nextNode();) {
    const holder = node.parentElement
    if (!node.data.trim() || /^(title|desc)$/.test(holder.tagName)) continue
    const scale = holder.getScreenCTM ? holder.getScreenCTM().a : 1
    const size = parseFloat(getComputedStyle(holder).fontSize) * scale
    if (size < found.type) { found.type = size; found.small = node.data }
    const range = document.createRange()
    range.selectNode(node)
    const box = holder.getScreenCTM ? holder.getBoundingClientRect() : range.getBoundingClientRect()
    if (box.left < edge.left - 1 || box.right > edge.right + 1) found.out.push(node.data)
  }
  return found
}"""


@contextmanager
def paper_tab() -> Iterator[Any]:
    """A page of a browser that takes HTML; what its console says must be nothing."""
    with browser() as running:
        page = running.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        yield page
        assert said == []
        page.close()


def on_paper(page: Any, html: str, *, paper: str, margins: tuple[float, float]) -> tuple[float, float]:
    """Lay a page out as it is printed; width and height of what is printed on a sheet. [px]

    Args:
        page: Of the browser.
        html: What to show.
        paper: A key of `PAPERS`.
        margins: Of the sheet, up and across, both sides together. [mm]
    """
    width, height = PAPERS[paper]
    size = width - margins[1] / 25.4 * 96.0, height - margins[0] / 25.4 * 96.0
    page.set_viewport_size({"width": int(size[0]), "height": int(size[1])})
    page.emulate_media(media="print")
    page.set_content(html)
    return size


def on_a_phone(page: Any, html: str) -> None:
    """Show a page on a phone."""
    page.emulate_media(media="screen")
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    page.set_content(html)


def measured(page: Any, part: str) -> dict[str, Any]:
    """Least type [pt], height [px] and texts that stick out at a side, of a part of what is shown.

    Args:
        page: Of the browser.
        part: Its selector.
    """
    found = page.eval_on_selector(part, _MEASURE)
    return {**found, "type": _POINT * found["type"]}


def sheets(page: Any, html: str, *, paper: str) -> int:
    """On how many sheets it is printed."""
    page.set_content(html.replace("</style>", f"@page card{{size:{paper}}}@page{{size:{paper}}}</style>"))
    return len(re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True)))
