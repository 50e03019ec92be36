"""Serve a page on this machine alone until somebody ends it."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Callable
from contextlib import suppress
from typing import Any, ClassVar

import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from rigcheck.page.app import build
from rigcheck.page.desk import Desk
from rigcheck.page.guard import HEADERS

LOOPBACK = "127.0.0.1"
MOST_CONNECTIONS = 48
HEAD_TIME, IDLE_TIME = 10.0, 15  # s: until a request is there, between two
_LONGEST_HEAD = 16 * 1024  # bytes


class PortError(Exception):
    """The port cannot be had; the message says why."""


def listening(port: int) -> socket.socket:
    """A socket on the loopback address.

    Args:
        port: Which; 0 for any that is free.

    Raises:
        PortError: Somebody else has it.
    """
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((LOOPBACK, port))
    except OSError as error:
        found.close()
        raise PortError(
            f"port {port} cannot be had: {error.strerror or error}; leave --port out for a free one"
        ) from None
    return found


class _Connection(H11Protocol):
    """A connection that is closed when it asks nothing, the oldest idle one first when there are too many."""

    everyone: ClassVar[list[_Connection]] = []

    def connection_made(self, transport: Any) -> None:
        """Take it up; make room where there are too many."""
        super().connection_made(transport)
        self.everyone.append(self)
        idle = [one for one in self.everyone[:-1] if one.idle]
        for one in idle[: max(len(self.everyone) - MOST_CONNECTIONS, 0)]:
            one.transport.abort()
        self.loop.call_later(HEAD_TIME, self._hurry)

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget it."""
        if self in self.everyone:
            self.everyone.remove(self)
        super().connection_lost(exc)

    @property
    def idle(self) -> bool:
        """Whether no request of it is being answered."""
        return self.cycle is None or self.cycle.response_complete

    def _hurry(self) -> None:
        if self.cycle is None and not self.transport.is_closing():
            self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        """Say that a request cannot be understood, with the headers of every answer."""
        import h11

        head = [(key.lower().encode(), value.encode()) for key, value in HEADERS]
        head += [(b"content-type", b"text/plain; charset=utf-8"), (b"connection", b"close")]
        for event in (
            h11.Response(status_code=400, headers=head, reason=b"Bad Request"),
            h11.Data(data=b"not understood\n"),
            h11.EndOfMessage(),
        ):
            self.transport.write(self.conn.send(event) or b"")
        self.transport.close()


class _Server(uvicorn.Server):
    """A server that tells its address when it stands."""

    def __init__(self, config: uvicorn.Config, *, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Stand, then tell."""
        await super().startup(sockets)
        self._ready()


def serve(desk: Desk, *, port: int, ready: Callable[[str], None]) -> None:
    """Serve until Ctrl+C.

    Args:
        desk: What answers.
        port: Which port; 0 for a free one.
        ready: Called once with the address.

    Raises:
        PortError: The port cannot be had.
    """
    with listening(port) as found:
        server = server_on(found, desk=desk, ready=ready)
        try:
            with suppress(KeyboardInterrupt):
                asyncio.run(server.serve(sockets=[found]))
        finally:
            desk.errands.close()


def server_on(found: socket.socket, *, desk: Desk, ready: Callable[[str], None]) -> uvicorn.Server:
    """A server on a socket, not running yet.

    Args:
        found: The socket.
        desk: What answers.
        ready: Called once with the address.
    """
    host = f"{LOOPBACK}:{found.getsockname()[1]}"
    address = f"http://{host}/?key={desk.key}"
    config = uvicorn.Config(
        build(desk, host=host),
        http=_Connection,
        ws="none",
        lifespan="off",
        log_config=None,
        log_level="critical",
        access_log=False,
        server_header=False,
        date_header=False,
        headers=list(HEADERS),
        h11_max_incomplete_event_size=_LONGEST_HEAD,
        timeout_keep_alive=IDLE_TIME,
        timeout_graceful_shutdown=2,
    )
    return _Server(config, ready=lambda: ready(address))
