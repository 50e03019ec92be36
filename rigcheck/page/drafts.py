"""What was typed and not saved, kept in the user's own folder until it is saved or dropped."""

from __future__ import annotations

import base64
import json
import os
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from rigcheck.page.book import Copy, copy_of
from rigcheck.page.changes import Changes, changes_of
from rigcheck.page.typed import BadRequestError


@dataclass(frozen=True, slots=True)
class Draft:
    """Changes that were not saved.

    Attributes:
        copy: The file that they are against.
        changes: They.
        at: When, as a clock shows it.
        count: How many.
    """

    copy: Copy
    changes: Changes
    at: str
    count: int


def state_folder() -> Path:
    """Where programs of this user keep what must outlive them."""
    if os.name == "nt":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "rigcheck"
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state") / "rigcheck"


def place_of(case: Path | None, *, folder: Path) -> Path:
    """Where the draft of a case is; a blank rig has one of its own for each folder."""
    name = str(folder.resolve() / "\0") if case is None else str(case.resolve())
    return state_folder() / f"draft-{sha256(name.encode('utf-8', 'surrogateescape')).hexdigest()[:32]}.json"


def keep(place: Path, *, copy: Copy, changes: Changes, count: int) -> bool:
    """Write a draft, whole or not at all and readable by its owner alone; with nothing in it, drop it.

    Returns:
        Whether it is kept.
    """
    if count == 0:
        drop(place)
        return True
    plain = {
        "at": datetime.now().astimezone().isoformat(timespec="seconds"),
        "count": count,
        "raw": base64.b64encode(copy.raw).decode(),
        "changes": changes.plain,
    }
    try:
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle, name = tempfile.mkstemp(prefix=".draft-", dir=place.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(plain, file, ensure_ascii=True)
                file.flush()
                os.fsync(file.fileno())
            os.replace(name, place)
        except OSError:
            with suppress(OSError):
                os.unlink(name)
            raise
    except OSError:
        return False
    return True


def drop(place: Path) -> None:
    """Forget a draft."""
    with suppress(OSError):
        place.unlink()


def found(place: Path) -> Draft | None:
    """The draft of a case; None where there is none that can be used."""
    try:
        plain: Any = json.loads(place.read_text(encoding="utf-8"))
        raw = base64.b64decode(plain["raw"], validate=True)
        copy = copy_of(raw) if raw else Copy()
        changes = changes_of(plain["changes"])
        at = datetime.fromisoformat(plain["at"])
        return Draft(copy, changes, f"{at:%H:%M} on {at:%d %B}", int(plain["count"]))
    except (OSError, ValueError, KeyError, TypeError, RecursionError, BadRequestError):
        return None
