"""The questions of the page without a script: what the posted form says, and the page that answers it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from rigcheck.case.errors import Location
from rigcheck.page import drafts
from rigcheck.page.changes import Changes, changes_of, laid_over
from rigcheck.page.desk import NO_PICTURE, Desk
from rigcheck.page.offers import LEAVE, MERGE, TAKE, conflict_offer, taken_together, taken_up
from rigcheck.page.picture import VIEWS
from rigcheck.page.rowing import carried_out
from rigcheck.page.saving import NotSavedError, Saved, save, save_as
from rigcheck.page.sheet import Page, page_html
from rigcheck.page.sketch import sketch_svg
from rigcheck.page.taking import SET
from rigcheck.page.typed import LONGEST_TYPED, BadRequestError, location_of, text_of

_CHOICE = "take:"
_OWN = frozenset({"token", "state", "do", "copy"})


def changes_of_form(fields: Mapping[str, str], *, desk: Desk) -> Changes:
    """The changes that a posted form makes.

    Args:
        fields: As they were sent.
        desk: The page.

    Raises:
        BadRequestError: It is not the form of the page.
    """
    try:
        changes = changes_of(json.loads(fields.get("state", "")))
    except (ValueError, RecursionError):
        raise BadRequestError("no state") from None
    data = laid_over(desk.copy(changes).data, changes)
    typed: dict[str, str | None] = dict(changes.typed)
    for path, text in fields.items():
        if path in _OWN or path.startswith(_CHOICE):
            continue
        if len(text) > LONGEST_TYPED:
            raise BadRequestError("a text too long")
        old = text_of(_at(data, location_of(path)))
        if text.strip() != old.strip():
            typed[path] = text if text.strip() else None
    return replace(changes, typed=typed)


def _at(data: Any, location: Location) -> Any:
    for step in location:
        if isinstance(data, Mapping):
            data = data.get(str(step))
        elif isinstance(data, list) and isinstance(step, int):
            data = data[step] if step < len(data) else None
        else:
            return None
    return data


def whole_page(
    desk: Desk, changes: Changes, *, view: str = "side", note: str = "", later: bool = False, offers: str = ""
) -> str:
    """The page over some changes.

    Args:
        desk: The page.
        changes: Against its file.
        view: Which drawing.
        note: What was done last.
        later: Whether bed mark and cures are worked out at once, for want of a script.
        offers: What the page offers to do.
    """
    from rigcheck.page.later import facts_at_once

    copy = desk.copy(changes)
    data = laid_over(copy.data, changes)
    answer = desk.answer(data)
    told = desk.told(answer, data=data, view=view)
    if answer.found is None:
        told["blank"] = sketch_svg() if desk.book.path is None else NO_PICTURE
    elif later:
        facts_at_once(answer, told, data=data, system=desk.system)
    title = data.get("title")
    return page_html(
        Page(
            title=title if isinstance(title, str) and title.strip() else "A new rig",
            name=desk.book.name,
            token=desk.token,
            changes=changes,
            unsaved=desk.unsaved(changes),
            told=told,
            shown=desk.shown(changes, data=data, answer=answer),
            note=note,
            offers=offers,
            blank=desk.book.path is None,
        )
    )


def answer_form(desk: Desk, fields: Mapping[str, str]) -> str:
    """The page after a button of the form was pressed.

    Raises:
        BadRequestError: It is not the form of the page.
    """
    changes = changes_of_form(fields, desk=desk)
    do, view = fields.get("do", "work"), "side"
    if do.startswith("view "):
        view = do.removeprefix("view ")
        if view not in VIEWS:
            raise BadRequestError("no such view")
    elif do.startswith(SET):
        changes = put_in(changes, do)
    elif do != "work":
        changes = carried_out(changes, do=do, data=desk.copy(changes).data)
    return whole_page(desk, changes, view=view, later=True)


def put_in(changes: Changes, do: str) -> Changes:
    """Changes with the texts of a remedy.

    Raises:
        BadRequestError: They are none.
    """
    try:
        typed = json.loads(do.removeprefix(SET))
    except (ValueError, RecursionError):
        raise BadRequestError("no such button") from None
    if not isinstance(typed, dict):
        raise BadRequestError("no such button")
    return changes_of({**changes.plain, "typed": {**changes.typed, **typed}})


def save_form(desk: Desk, fields: Mapping[str, str]) -> str:
    """The page after the form was saved, or was not.

    Raises:
        BadRequestError: It is not the form of the page.
    """
    changes = changes_of_form(fields, desk=desk)
    try:
        saved = saved_by(desk, changes, name=fields.get("copy", "") if fields.get("do") == "copy" else None)
    except NotSavedError as error:
        offers = conflict_offer(desk, changes) if error.conflict else ""
        return whole_page(desk, changes, note=f"Not saved: {error}", later=True, offers=offers)
    if saved.path == desk.book.path:
        changes = Changes(base=saved.copy.sha256)
    return whole_page(desk, changes, note=f"Saved: {saved.path.name}", later=True)


def saved_by(desk: Desk, changes: Changes, *, name: str | None) -> Saved:
    """Save into the file of the page, or under a new name; a blank rig has that file from then on.

    Raises:
        NotSavedError: Nothing was written.
    """
    if name is None:
        done = save(desk.book, changes)
        drafts.drop(desk.draft_place)
        return done
    saved = save_as(desk.book, changes, name=name, folder=desk.folder)
    if desk.book.path is None:
        drafts.drop(desk.draft_place)
        desk.book.path = saved.path
        desk.book.keep(saved.copy)
    return saved


def offered(desk: Desk, changes: Changes, *, do: str, take: Mapping[str, Any]) -> Changes:
    """The changes of the page after an offer was answered.

    Args:
        desk: The page.
        changes: Before.
        do: Which button.
        take: Key changed on both sides to the side that is taken.

    Raises:
        BadRequestError: Nothing of the kind is offered.
    """
    if do == TAKE:
        return taken_up(desk)
    if do == LEAVE:
        drafts.drop(desk.draft_place)
        return changes
    if do == MERGE:
        return taken_together(desk, changes, take=take)
    raise BadRequestError("no such button")


def offer_form(desk: Desk, fields: Mapping[str, str]) -> str:
    """The page after an offer was answered by the form.

    Raises:
        BadRequestError: It is not the form of the page.
    """
    changes = changes_of_form(fields, desk=desk)
    take = {key.removeprefix(_CHOICE): side for key, side in fields.items() if key.startswith(_CHOICE)}
    return whole_page(desk, offered(desk, changes, do=fields.get("do", ""), take=take), later=True)
