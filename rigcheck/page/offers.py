"""What the page offers to do: take up a draft, or a file that somebody else changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.case.errors import CaseError
from rigcheck.output.html_page import words
from rigcheck.page import drafts
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.desk import Desk
from rigcheck.page.merging import Difference, changes_to, differences, merged
from rigcheck.page.typed import BadRequestError

TAKE, LEAVE, MERGE = "draft take", "draft drop", "merge"


def draft_offer(desk: Desk) -> str:
    """The offer of a draft as HTML; nothing where there is none."""
    draft = None if desk.read_only else drafts.found(desk.draft_place)
    if draft is None:
        return ""
    many = f"{draft.count} change{'s' if draft.count > 1 else ''}"
    return _offer(
        f"{many} of {draft.at} were not saved." if draft.count > 1 else f"{many} of {draft.at} was not saved.",
        "",
        ((TAKE, "Take them up"), (LEAVE, "Drop them")),
    )


def taken_up(desk: Desk) -> Changes:
    """The changes of the draft, on the file as it is now.

    Raises:
        BadRequestError: There is none.
    """
    draft = drafts.found(desk.draft_place)
    if draft is None:
        raise BadRequestError("no draft")
    now = desk.book.newest
    if draft.copy.sha256 == now.sha256:
        return draft.changes
    mine = laid_over(draft.copy.data, draft.changes)
    return changes_to(now, merged(draft.copy.data, mine=mine, theirs=now.data, keep_theirs=frozenset()))


def conflict_offer(desk: Desk, changes: Changes) -> str:
    """What stands otherwise in the file now, and what may be done, as HTML.

    Args:
        desk: The page.
        changes: Of the page.
    """
    base = desk.copy(changes)
    try:
        now = desk.book.read()
    except CaseError as error:
        why = f"The file cannot be read as a case any more: {error.problems[0]}"
        return _offer(why, "<p>What stands on the page is as it was; save a copy of it.</p>", ())
    if now.sha256 == changes.base:
        return ""
    found = differences(base.data, mine=laid_over(base.data, changes), theirs=now.data)
    rows = "".join(_difference(one) for one in found) or "<p>Only its remarks or blanks are others.</p>"
    return _offer("The file was changed meanwhile.", rows, ((MERGE, "Take up the file and keep my changes"),))


def _difference(one: Difference) -> str:
    text = f"{words(one.key)}: was {words(one.was or 'not there')}, in the file {words(one.theirs or 'not there')}"
    if not one.both:
        return f"<p>{text}</p>"
    name = words(f"take:{one.key}")
    choices = "".join(
        f'<label><input type="radio" name="{name}" value="{side}"{" checked" if side == "mine" else ""}> '
        f"{who}: {words(value or 'not there')}</label>"
        for side, who, value in (("mine", "mine", one.mine), ("theirs", "the file's", one.theirs))
    )
    return f"<fieldset><legend>{text}; changed here too</legend>{choices}</fieldset>"


def taken_together(desk: Desk, changes: Changes, *, take: Mapping[str, Any]) -> Changes:
    """The changes of the page on the file as it is now.

    Args:
        desk: The page.
        changes: Of the page.
        take: Key changed on both sides to "theirs" where the file's value stays.
    """
    base = desk.copy(changes)
    now = desk.book.read()
    theirs = frozenset(key for key, side in take.items() if side == "theirs")
    mine = laid_over(base.data, changes)
    wanted = merged(base.data, mine=mine, theirs=now.data, keep_theirs=theirs)
    return changes_to(now, wanted)


def _offer(text: str, body: str, buttons: tuple[tuple[str, str], ...]) -> str:
    made = "".join(
        f'<button name="do" value="{do}" formaction="/draft">{words(label)}</button>' for do, label in buttons
    )
    head = f'<section class="offer" aria-label="Offer"><p><b>{words(text)}</b></p>'
    return f'{head}{body}<div class="tools">{made}</div></section>'
