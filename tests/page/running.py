"""A page that runs beside the test that asks it."""

from __future__ import annotations

import asyncio
import json
import shutil
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from rigcheck.page.book import Book
from rigcheck.page.desk import Desk
from rigcheck.page.serving import listening, server_on

ROOT = Path(__file__).parents[2]
CASE = "sawpit-bend.toml"


class Running:
    """A page, its file, and the plainest of clients."""

    def __init__(self, desk: Desk, address: str) -> None:
        self.desk, self.address = desk, address
        self.wait = 10.0  # s: how long an answer may take
        self.host = address.split("/")[2]
        self.port = int(self.host.split(":")[1])

    @property
    def path(self) -> Path:
        assert self.desk.book.path is not None
        return self.desk.book.path

    @property
    def base(self) -> str:
        return self.desk.book.newest.sha256

    def raw(self, request: bytes) -> bytes:
        """Everything that comes back for some bytes."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=self.wait) as line:
            line.sendall(request)
            found = b""
            try:
                while more := line.recv(65536):
                    found += more
            except (TimeoutError, ConnectionResetError):
                pass
            return found

    def headers(self, **other: str | None) -> dict[str, str]:
        """Headers of a question of the page, some of them otherwise; None leaves one out."""
        usual: dict[str, str | None] = {
            "Host": self.host, "Origin": f"http://{self.host}", "Content-Type": "application/json",
            "Sec-Fetch-Site": "same-origin",
        }  # fmt: skip
        usual |= {name.replace("_", "-"): value for name, value in other.items()}
        return {name: value for name, value in usual.items() if value is not None}

    def post(self, path: str, body: Any, *, plain: bytes | None = None, **other: str | None) -> tuple[int, str]:
        """Status and body of a question."""
        sent = json.dumps({"token": self.desk.token, **body}).encode() if plain is None else plain
        head = self.headers(**{"Content_Length": str(len(sent)), "Connection": "close", **other})
        lines = "".join(f"{name}: {value}\r\n" for name, value in head.items())
        return parted(self.raw(f"POST {path} HTTP/1.1\r\n{lines}\r\n".encode() + sent))

    def ask(self, path: str, **body: Any) -> dict[str, Any]:
        """The answer to a question that is none to refuse."""
        status, text = self.post(path, body)
        assert status == 200, text
        return dict(json.loads(text))

    def get(self, path: str = "", **other: str | None) -> tuple[int, str]:
        head = self.headers(**{"Connection": "close", "Content_Type": None, "Origin": None, **other})
        lines = "".join(f"{name}: {value}\r\n" for name, value in head.items())
        path = path or f"/?key={self.desk.key}"
        return parted(self.raw(f"GET {path} HTTP/1.1\r\n{lines}\r\n".encode()))


def parted(answer: bytes) -> tuple[int, str]:
    """Status and body; 0 where the line was cut."""
    if not answer:
        return 0, ""
    head, _, body = answer.partition(b"\r\n\r\n")
    return int(head.split(b" ", 2)[1]), body.decode("utf-8", "replace")


@contextmanager
def page_of(path: Path | None, **desk: Any) -> Iterator[Running]:
    """A page over a file, in a thread of its own."""
    book = Book(path)
    book.read()
    made = Desk(book, **desk)
    told: list[str] = []
    stands = threading.Event()

    def ready(address: str) -> None:
        told.append(address)
        stands.set()

    with listening(0) as found:
        server = server_on(found, desk=made, ready=ready)
        thread = threading.Thread(target=lambda: asyncio.run(server.serve(sockets=[found])), daemon=True)
        thread.start()
        assert stands.wait(20.0)
        yield Running(made, told[0])
        made.errands.close()
        server.should_exit = True
        thread.join(20.0)


def case_in(folder: Path, name: str = CASE) -> Path:
    """A shipped case, copied."""
    return Path(shutil.copy(ROOT / "cases" / name, folder / name))
