"""The system's browser, driven; skipped where there is none, unless it must be there."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

MUST = os.environ.get("RIGCHECK_BROWSER") == "must"
WIDE, NARROW = (1280, 900), (390, 844)
_FLAGS = ["--headless", "--no-sandbox", "--disable-gpu"]


def chromium() -> str:
    """Where the browser is; skips, or fails where it must be there."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    try:
        import playwright  # noqa: F401 (only looked for)
    except ImportError:
        found = None
    if found is None:
        (pytest.fail if MUST else pytest.skip)(
            "no chromium or no playwright here, so no page is looked at in a browser"
        )
    return found


@contextmanager
def browser() -> Iterator[Any]:
    """A browser for some pages."""
    path = chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=path, args=_FLAGS)
        yield running
        running.close()


@contextmanager
def tab(running: Any, address: str, *, size: tuple[int, int] = WIDE, **more: Any) -> Iterator[Any]:
    """A page of the browser; what its console says and what it asks of other machines must be nothing."""
    context = running.new_context(viewport={"width": size[0], "height": size[1]}, **more)
    page = context.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.said, page.asked = said, asked
    page.goto(address)
    yield page
    host = address.split("?")[0]
    assert not said, said
    assert [url for url in asked if not url.startswith(host)] == []
    context.close()


def until(page: Any, script: str, *, wait: float = 20.0, unless: Callable[[], bool] | None = None) -> Any:
    """The first true value of an expression; polled, as the policy of the page stops the driver's own way."""
    end = time.monotonic() + wait
    while time.monotonic() < end:
        found = page.evaluate(script)
        if found:
            return found
        time.sleep(0.02)
    raise AssertionError(
        f"never true: {script}; the note says {page.evaluate('document.getElementById(`note`).textContent')}"
    )
