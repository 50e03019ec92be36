"""The page as HTML: head, answer, picture, why, numbers, foot; whole and usable before any script runs."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rigcheck.output.html_page import items, words
from rigcheck.page.changes import Changes
from rigcheck.page.choices import lists_html
from rigcheck.page.form import Shown, form_html, hidden_state
from rigcheck.page.picture import VIEWS
from rigcheck.wording.cautions import CAUTIONS

SCRIPTS = ("page.js", "picture.js", "later.js", "keeping.js")
_SCRIPTS = "".join(f'<script type="module" src="/{name}"></script>' for name in SCRIPTS[:1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What stands on a page.

    Attributes:
        title: Of the rig.
        name: Of the file.
        token: For its questions.
        changes: Against the file.
        unsaved: How many.
        told: The answer as the desk tells it.
        shown: The form.
        note: What was done last, in a sentence.
        offers: Further HTML under the head: a draft, a conflict.
        blank: Whether the rig has no file yet.
    """

    title: str
    name: str
    token: str
    changes: Changes
    unsaved: int
    told: Mapping[str, Any]
    shown: Shown
    note: str = ""
    offers: str = ""
    blank: bool = False


def page_html(page: Page) -> str:
    """The whole page."""
    told = page.told
    start = {key: told.get(key) for key in ("hash", "view", "frame", "grips", "word", "problems")}
    start |= {"changes": page.changes.plain}
    data = json.dumps(start).replace("<", "\\u003c")
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="referrer" content="same-origin">'
        f"<title>{words(page.title)} - rigcheck</title>"
        '<link rel="icon" href="/icon.svg"><link rel="stylesheet" href="/page.css">'
        f'<script id="start" type="application/json">{data}</script>'
        f"{_SCRIPTS}</head>"
        '<body><form method="post" action="/live" id="rig" autocomplete="off" novalidate>'
        f'<input type="hidden" name="token" value="{words(page.token)}">{hidden_state(page.changes)}'
        f'{_head(page)}<main>{_answer(page)}<div id="offers">{page.offers}</div>'
        f"{_picture(page)}{_why(page)}{_numbers(page)}</main></form>"
        f"{_foot()}{lists_html()}</body></html>\n"
    )


def _head(page: Page) -> str:
    state = saved_text(page.unsaved)
    there = "" if page.blank else '<button name="do" value="save" formaction="/save" id="save">Save to file</button>'
    copy = "Save as a new file" if page.blank else "Save a copy"
    name = "name of the rig" if page.blank else "name of a copy"
    save = "" if page.shown.frozen else (
        '<button name="do" value="undo" type="button" id="undo" hidden>Undo</button>'
        '<button name="do" value="redo" type="button" id="redo" hidden>Redo</button>'
        f'{there}<label class="copy" for="copy-name">as</label>'
        f'<input id="copy-name" name="copy" placeholder="{name}">'
        f'<button name="do" value="copy" formaction="/save" id="save-copy">{copy}</button>'
    )  # fmt: skip
    return (
        f'<header><h1 dir="auto">{words(page.title)}</h1><p class="file">{words(page.name)}, '
        f'<span id="saved">{state}</span></p><div class="tools"><button name="do" value="work" id="work">Work it out'
        f'</button>{save}</div><p class="note" id="note" role="status">{words(page.note)}</p></header>'
    )


def saved_text(unsaved: int) -> str:
    """How the page stands to its file."""
    return f"{unsaved} not saved" if unsaved else "as saved"


def _answer(page: Page) -> str:
    return (
        f'<section id="answer" aria-label="Answer">{page.told["answer"]}</section>'
        '<p id="aloud" role="status" class="aloud"></p>'
    )


def _picture(page: Page) -> str:
    view = page.told.get("view", "side")
    tabs = "".join(
        f'<button name="do" value="view {key}" aria-pressed="{"true" if key == view else "false"}">{name}</button>'
        for key, name in VIEWS.items()
    )
    body = page.told.get("svg") or page.told.get("blank", "")
    caption = page.told.get("caption") or ""
    return (
        f'<section id="picture"><h2>Picture</h2><div class="tabs" role="group" aria-label="Views">{tabs}</div>'
        f'<figure id="drawn"><div id="svg">{body}</div></figure><div id="strip"></div><div id="fold"></div>'
        f'<details><summary>What is drawn</summary><p id="caption">{words(caption)}</p></details></section>'
    )


def _why(page: Page) -> str:
    return f'<section id="why-part"><h2>Why</h2><div id="why">{page.told["why"]}</div></section>'


def _numbers(page: Page) -> str:
    return (
        '<section id="numbers"><h2>Numbers</h2><p class="search" id="search-part" hidden><label for="search">Find a key'
        '</label><input id="search" type="search"></p>'
        f'<div id="form">{form_html(page.shown)}</div></section>'
    )


def _foot() -> str:
    """Cautions in full, and what is printed."""
    papers = (
        '<div class="tools"><button form="rig" name="do" value="card" formtarget="_blank">Shop card to print</button>'
        '<button form="rig" name="do" value="packet" formtarget="_blank">Engineer\'s packet</button></div>'
    )
    return f"<footer>{papers}<h2>Cautions</h2>{items(CAUTIONS)}</footer>"
