"""The width of a screen: that of the terminal, or what COLUMNS says, 120 letters at most; 80 where neither is known."""

import io
import os

import pytest

from rigcheck.cli.looks import look


class Screen(io.StringIO):
    def __init__(self, *, terminal: bool) -> None:
        super().__init__()
        self.terminal = terminal

    def isatty(self) -> bool:
        return self.terminal


@pytest.mark.parametrize(
    ("terminal", "columns", "asked", "width"),
    [
        (False, "", 0, 80), (False, "100", 0, 100), (False, "wide", 0, 80), (False, "300", 0, 120),
        (False, "100", 64, 64), (True, "", 0, 91), (True, "72", 0, 72), (True, "", 132, 132),
    ],
)  # fmt: skip
def test_width(monkeypatch, terminal, columns, asked, width):
    monkeypatch.setattr("sys.stdout", Screen(terminal=terminal))
    monkeypatch.setattr("sys.__stdout__", Screen(terminal=terminal))
    monkeypatch.setenv("COLUMNS", columns)
    if terminal and not columns:
        monkeypatch.setattr("shutil.get_terminal_size", lambda _: os.terminal_size((91, 24)))
    assert look(asked).width == width


@pytest.mark.parametrize(
    ("terminal", "set_to", "color"),
    [(True, {}, True), (False, {}, False), (True, {"TERM": "dumb"}, False), (True, {"NO_COLOR": "1"}, False)],
)
def test_color_only_at_a_terminal_that_shows_it(monkeypatch, terminal, set_to, color):
    monkeypatch.setattr("sys.stdout", Screen(terminal=terminal))
    for name, value in {"TERM": "xterm", "NO_COLOR": "", "COLUMNS": "80", **set_to}.items():
        monkeypatch.setenv(name, value)
    assert look().color is color
