"""What the page asks and is answered: numbers in, answer, picture and form out; one question at a time."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from rigcheck.case.schema.kinds import Quantity, RefusedError
from rigcheck.page import drafts
from rigcheck.page.answer import Answer, answered
from rigcheck.page.asked_first import beside_needed, first_of, still_needed
from rigcheck.page.book import Book, Copy
from rigcheck.page.changes import Changes, changes_of, hash_of, laid_over, with_rows
from rigcheck.page.edits import edits_between
from rigcheck.page.errand import Errands
from rigcheck.page.form import Shown, form_html
from rigcheck.page.later import Job, grip_of
from rigcheck.page.merging import changes_to
from rigcheck.page.picture import VIEWS, frame_of
from rigcheck.page.rowing import carried_out, together
from rigcheck.page.taking import SET
from rigcheck.page.typed import BadRequestError, field_of, text_of
from rigcheck.page.whole import problems, told_whole
from rigcheck.quantities import System, write
from rigcheck.wording.plain import Plain

NO_PICTURE = '<p class="note">No picture yet: the numbers cannot be read.</p>'


@dataclass(slots=True)
class Desk:
    """One page over one file.

    Attributes:
        book: The file.
        system: Units of every answer.
        read_only: Whether nothing is ever written.
        folder: Where a rig without a file is saved.
        key: What the address of the page must have.
        token: What every question must have.
    """

    book: Book
    system: System = "us"
    read_only: bool = False
    folder: Path = field(default_factory=Path.cwd)
    key: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    errands: Errands = field(default_factory=Errands)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def copy(self, changes: Changes) -> Copy:
        """The file that changes are against.

        Raises:
            BadRequestError: No file of this page was ever that.
        """
        found = self.book.copies.get(changes.base)
        if found is None:
            raise BadRequestError("a file that this page never read")
        return found

    def live(self, asked: Mapping[str, Any]) -> Plain:
        """Answer the numbers on the page with the whole check.

        Args:
            asked: Changes, the view that is shown and its frame, and perhaps what to do with a part or a row, or which
                row goes with the one that was typed into.

        Returns:
            Everything that the page shows, under the hash of the numbers it is for.

        Raises:
            BadRequestError: It is not what the page sends.
        """
        changes = self.rebased(changes_of(asked.get("changes")), asked.get("onto"))
        do, view, twin = asked.get("do"), asked.get("view", "side"), asked.get("twin")
        if not isinstance(view, str) or view not in VIEWS or not isinstance(do, str | None):
            raise BadRequestError("no such view")
        if not isinstance(twin, str | None):
            raise BadRequestError("no such rows")
        if do and do.startswith(SET):
            raise BadRequestError("the page puts these in itself")
        if do:
            changes = carried_out(changes, do=do, data=self.copy(changes).data)
        if twin:
            changes = together(changes, twin=twin, data=self.copy(changes).data)
        told = self.answered(changes, view=view, frame=asked.get("frame"), anew=bool(do or asked.get("form")))
        return {**told, "changes": changes.plain} if twin else told

    def answered(self, changes: Changes, *, view: str, frame: Any = None, anew: bool = False) -> Plain:
        """Everything that the page shows of some changes.

        Args:
            changes: They.
            view: Which drawing.
            frame: What it showed before.
            anew: Whether the form is another one now, and the changes too.
        """
        copy = self.copy(changes)
        data = laid_over(copy.data, changes)
        answer = self.answer(data)
        told = self.told(answer, data=data, view=view, frame=frame)
        told["disk"] = self.book.on_disk()
        told["unsaved"] = self.unsaved(changes)
        told["title"] = text_of(data.get("title"))
        told["echo"] = echoes(changes, system=self.system)
        if anew:
            told["changes"] = changes.plain
            told["form"] = form_html(self.shown(changes, data=data, answer=answer))
        return told

    def rebased(self, changes: Changes, onto: Any) -> Changes:
        """Changes of before a save as changes against the file as it was saved.

        Raises:
            BadRequestError: No file of this page was ever that.
        """
        if onto is None or onto == changes.base:
            return changes
        if not isinstance(onto, str) or onto not in self.book.copies:
            raise BadRequestError("a file that this page never read")
        return changes_to(self.book.copies[onto], laid_over(self.copy(changes).data, changes))

    @property
    def draft_place(self) -> Path:
        """Where what is not saved is kept."""
        return drafts.place_of(self.book.path, folder=self.folder)

    def keep_draft(self, changes: Changes) -> bool:
        """Keep what is not saved; whether it could be kept."""
        return drafts.keep(self.draft_place, copy=self.copy(changes), changes=changes, count=self.unsaved(changes))

    def answer(self, data: Mapping[str, Any]) -> Answer:
        """The whole check of some numbers, one at a time."""
        with self._lock:
            found = answered(data, hash=hash_of(data), name=self.book.name, system=self.system)
        needed = still_needed(data) if self.book.path is None and found.told is None else []
        if not needed:
            return found
        return replace(found, needed=needed, problems=beside_needed(found.problems, needed=needed))

    def told(self, answer: Answer, *, data: Mapping[str, Any], view: str, frame: Any = None) -> Plain:
        """An answer as the page shows it."""
        return told_whole(answer, data=data, view=view, frame=frame, system=self.system)

    def job(self, asked: Mapping[str, Any]) -> Job:
        """What is to be worked out for the numbers on the page, once they rest.

        Args:
            asked: Changes, view and frame, and the grip in hand.

        Raises:
            BadRequestError: It is not what the page sends.
        """
        changes, grip, view = changes_of(asked.get("changes")), asked.get("grip"), asked.get("view", "side")
        if not isinstance(view, str) or view not in VIEWS:
            raise BadRequestError("no such view")
        data = laid_over(self.copy(changes).data, changes)
        frame = asked.get("frame") if frame_of(asked.get("frame")) else None
        found = grip_of(grip) if grip is not None else None
        name, hash = self.book.name, hash_of(data)
        return Job(data=data, hash=hash, name=name, system=self.system, view=view, frame=frame, grip=found)

    def shown(self, changes: Changes, *, data: Mapping[str, Any], answer: Answer) -> Shown:
        """What the form shows."""
        return Shown(
            data=data,
            opened=changes.opened,
            problems=problems(answer),
            echo=echoes(changes, system=self.system),
            frozen=self.read_only,
            first=first_of(data) if self.book.path is None else (),
        )

    def unsaved(self, changes: Changes) -> int:
        """How many keys and rows differ from the file that the page started from."""
        copy = self.copy(changes)
        if not copy.raw and not changes.typed:
            return 0
        moved = sum(list(order) != list(range(1, len(order) + 1)) or _more(copy.data, table, order)
                    for table, order in changes.rows.items())  # fmt: skip
        return moved + len(edits_between(with_rows(copy.data, changes), laid_over(copy.data, changes)))


def _more(data: Any, table: str, order: tuple[int, ...]) -> bool:
    for step in table.split("."):
        data = data.get(step, {}) if isinstance(data, Mapping) else {}
    return len(data) != len(order)


def echoes(changes: Changes, *, system: System) -> dict[str, str]:
    """How each typed quantity was understood, in one unit."""
    found = {}
    for path, text in changes.typed.items():
        kind = field_of(path).kind if text else None
        if not text or not isinstance(kind, Quantity) or kind.dimension == "number":
            continue
        try:
            said = write(kind.read(text), dimension=kind.dimension, system=system, digits=5)
        except RefusedError:
            continue
        if said != " ".join(text.split()):
            found[path] = f"= {said}"
    return found
