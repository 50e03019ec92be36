"""What may reach the page: its own address, its own questions, of bounded size; everything else is refused."""

from __future__ import annotations

import hmac
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from rigcheck.page.typed import BadRequestError

LARGEST_BODY = 256 * 1024  # bytes
LARGEST_FORM = 3000  # fields
JSON, FORM = "application/json", "application/x-www-form-urlencoded"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS: tuple[tuple[str, str], ...] = (
    ("Content-Security-Policy", POLICY),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cache-Control", "no-store"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
)
"""On every answer."""

Headers = Sequence[tuple[bytes, bytes]]


@dataclass(frozen=True, slots=True)
class RefusalError(Exception):
    """A request that is not answered.

    Attributes:
        status: Code of HTTP.
        why: One line.
    """

    status: int
    why: str


def header(headers: Headers, name: bytes) -> bytes | None:
    """The one header of a name; None where there is none.

    Raises:
        RefusalError: It stands there twice.
    """
    found = [value for key, value in headers if key.lower() == name]
    if len(found) > 1:
        raise RefusalError(400, "a header twice")
    return found[0] if found else None


def check_host(headers: Headers, *, host: str) -> None:
    """Refuse every name but our own.

    Raises:
        RefusalError: The request is for another host.
    """
    if header(headers, b"host") != host.encode():
        raise RefusalError(421, "this page answers under its own address only")


def check_post(headers: Headers, *, host: str) -> tuple[str, int]:
    """Refuse every question that the page itself did not ask.

    Args:
        headers: Of the request.
        host: Our own, with the port.

    Returns:
        Kind of the body and its length.

    Raises:
        RefusalError: It comes from elsewhere, or is no question of the page.
    """
    if header(headers, b"origin") != f"http://{host}".encode():
        raise RefusalError(403, "not from this page")
    if header(headers, b"sec-fetch-site") not in (None, b"same-origin"):
        raise RefusalError(403, "not from this page")
    if header(headers, b"transfer-encoding") is not None:
        raise RefusalError(411, "a length is needed")
    length = header(headers, b"content-length")
    if length is None or not length.isdigit() or len(length) > 9:
        raise RefusalError(411, "a length is needed")
    if int(length) > LARGEST_BODY:
        raise RefusalError(413, "too long")
    kind = (header(headers, b"content-type") or b"").partition(b";")[0].strip().lower().decode("latin-1")
    if kind not in (JSON, FORM):
        raise RefusalError(415, "neither JSON nor the form of the page")
    return kind, int(length)


def check_token(given: Any, *, token: str) -> None:
    """Refuse a question without the token of the page.

    Raises:
        RefusalError: It is another, or none.
    """
    text = given if isinstance(given, str) else ""
    if not hmac.compare_digest(text.encode("utf-8", "surrogatepass"), token.encode()):
        raise RefusalError(403, "not from this page")


def asked_by_script(body: bytes) -> Mapping[str, Any]:
    """The question of the script.

    Raises:
        RefusalError: It is no JSON object.
    """
    try:
        found = json.loads(body)
    except (ValueError, RecursionError):
        raise RefusalError(400, "no JSON") from None
    if not isinstance(found, dict):
        raise RefusalError(400, "no JSON object")
    return found


def asked_by_form(body: bytes) -> Mapping[str, str]:
    """The fields of the form, each once.

    Raises:
        RefusalError: It is no such form.
    """
    try:
        pairs = parse_qsl(body.decode("ascii"), keep_blank_values=True, strict_parsing=True, errors="strict",
                          max_num_fields=LARGEST_FORM)  # fmt: skip
    except ValueError:
        raise RefusalError(400, "no form") from None
    found = dict(pairs)
    if len(found) < len(pairs):
        raise RefusalError(400, "a field twice")
    return found


def plainly(error: BadRequestError) -> RefusalError:
    """A question that the page would not ask, as a refusal."""
    return RefusalError(400, str(error))
