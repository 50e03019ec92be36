"""What is printed from the page: the shop card and the engineer's packet, of the numbers that stand on it."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from hashlib import sha256
from pathlib import Path

from rigcheck.case.reading.read import read_case_bytes
from rigcheck.case.rig import Rig
from rigcheck.output.card.page import card_html
from rigcheck.output.card.whole import card_of
from rigcheck.output.check.result import Source
from rigcheck.page.changes import Changes
from rigcheck.page.desk import Desk
from rigcheck.page.saving import NotSavedError, new_bytes

CARD, PACKET = "card", "packet"
STYLE = "card.css"
_PACKET_TIME = 600.0  # s


def card(desk: Desk, changes: Changes) -> str:
    """The shop card of what stands on the page, its style under an address of its own.

    Raises:
        NotSavedError: It is no case.
    """
    raw, name = _file(desk, changes)
    source = Source(file=name, sha256=sha256(raw).hexdigest())
    told = card_of(Rig(read_case_bytes(raw, name=name)), source=source, system=desk.system)
    return card_html(told, sheet=f"/{STYLE}")


def packet(desk: Desk, changes: Changes) -> tuple[str, bytes]:
    """The engineer's packet of what stands on the page: name of the file, and the file.

    Raises:
        NotSavedError: It is no case, or the packet could not be made.
    """
    raw, name = _file(desk, changes)
    with tempfile.TemporaryDirectory(prefix="rigcheck-") as folder:
        case, out = Path(folder) / name, Path(folder) / "packet.html"
        case.write_bytes(raw)
        command = [sys.executable, "-m", "rigcheck", "report", str(case), "-o", str(out), "--units", desk.system]
        done = subprocess.run(command, capture_output=True, text=True, timeout=_PACKET_TIME, check=False)
        if not out.is_file():
            raise NotSavedError(f"the packet could not be made: {done.stderr.strip()[:300]}")
        return f"{case.stem}-packet.html", out.read_bytes()


def _file(desk: Desk, changes: Changes) -> tuple[bytes, str]:
    name = f"{Path(desk.book.name).stem or 'rig'}.toml"
    return new_bytes(desk.copy(changes), changes, name=name), name


__all__ = ["CARD", "PACKET", "STYLE", "NotSavedError", "card", "packet"]
