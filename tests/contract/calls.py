"""Every call that is frozen: each command on each shipped case, in both unit systems, as screen, JSON and page."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from rigcheck import __version__
from tests.support.lot import call

ROOT = Path(__file__).parents[2]
CASES = {path.stem: path for path in sorted((ROOT / "cases").glob("*.toml"))}
SYSTEMS = ("us", "si")
WIDTH = 80
DIGITS = 9
"""Figures of a number that count: the last bits of a sum differ between machines."""
SCREENS = {
    "check": ("", "--all", "--remedies", "--confirm"),
    "length": ("--points 5",),
    "hardware": ("",),
    "materials": ("", "--all"),
    "props": ("",),
    "fold": ("",),
    "haul": ("",),
    "spread": ("--samples 50",),
    "field": ("--weight '305 lb' --tail-lift '142 lb' --at '95 in'", "--side-pull '25 lb' --offset '1 1/2 in'"),
    "plant": ("",),
    "proof": ("",),
    "card": ("",),
    "working": ("",),
}
"""Options with which a command answers on the screen and as JSON."""
PAGES = {"card": "", "report": "--length --working"}
"""Options with which a command writes a page."""
ALONE = {"report": "--length --working"}
"""Options of a command that has no screen, only JSON."""
COMMANDS = tuple(sorted({*SCREENS, *PAGES}))


@dataclass(frozen=True)
class Call:
    """One call of a command and the form of its answer."""

    command: str
    case: str
    units: str
    form: str
    options: str

    @property
    def name(self) -> str:
        """What the call is known by, without spaces."""
        return "/".join((self.case, self.units, self.form, *self.options.replace("'", "").split()))


def calls(command: str, *, case: str) -> Iterator[Call]:
    """Every call of a command on a case."""
    for units in SYSTEMS:
        for options in SCREENS.get(command, ()):
            yield Call(command, case, units, "screen", options)
            yield Call(command, case, units, "json", options)
        if command in ALONE:
            yield Call(command, case, units, "json", ALONE[command])
        if command in PAGES:
            yield Call(command, case, units, "html", PAGES[command])


def answer(asked: Call, *, folder: Path) -> str:
    """Exit code, stdout, stderr and page of a call, as one text.

    Args:
        asked: The call.
        folder: Where a page goes.
    """
    import shlex

    page = folder / "page.html"
    page.unlink(missing_ok=True)
    form = {"screen": ["--width", str(WIDTH)], "json": ["--json"], "html": ["--output", str(page)]}[asked.form]
    words = [asked.command, str(CASES[asked.case]), *shlex.split(asked.options), "--units", asked.units, *form]
    code, screen, complaints = call(*words)
    if asked.form == "json":
        screen = rounded(screen)
    paper = page.read_text(encoding="utf-8") if page.exists() else ""
    return masked("\n".join((str(code), screen, complaints, paper)), folder=folder)


def rounded(text: str) -> str:
    """JSON with its numbers in as many figures as count."""
    try:
        return json.dumps(_rounded(json.loads(text)), indent=1, ensure_ascii=False)
    except ValueError:  # a complaint instead
        return text


def _rounded(data: Any) -> Any:
    if isinstance(data, float):
        return float(f"{data:.{DIGITS}g}") + 0.0
    if isinstance(data, dict):
        return {key: _rounded(value) for key, value in data.items()}
    return [_rounded(value) for value in data] if isinstance(data, list) else data


def masked(text: str, *, folder: Path) -> str:
    """A text without what may differ from run to run: folders, version, dates."""
    text = text.replace(str(folder), "FOLDER").replace(str(ROOT), "ROOT")
    text = text.replace(__version__, "VERSION")
    return re.sub(r"\b20\d\d-\d\d-\d\d(?:[T ]\d\d:\d\d(?::\d\d)?)?\b", "DATE", text)


def hashed(text: str) -> str:
    """What a text is remembered by."""
    return sha256(text.encode()).hexdigest()[:16]
