"""A plot of several curves in plain letters, one letter a curve."""

from __future__ import annotations

from collections.abc import Sequence

HEIGHT = 16
LETTERS = "abcdefgh"
_MARGIN = 7


def plot(
    x: Sequence[float], *, curves: Sequence[Sequence[float | None]], width: int, top: float, line: float
) -> list[str]:
    """Curves over rising values; the first one lies on top of the others.

    Args:
        x: Values along, rising.
        curves: One sequence as long as `x` for each curve; None where it has no value.
        width: Letters across.
        top: Value at the upper edge; what is higher is drawn on it.
        line: Value at which a line is drawn.

    Returns:
        Lines of equal meaning, the last one the axis.
    """
    across = max(width - _MARGIN - 1, 10)
    grid = [[" "] * across for _ in range(HEIGHT)]
    mark = _row(line, top=top)
    grid[mark] = ["-"] * across
    span = x[-1] - x[0] or 1.0
    for letter, curve in reversed(list(zip(LETTERS, curves, strict=False))):
        for column in range(across):
            value = _between(x, curve, at=x[0] + span * column / (across - 1))
            if value is not None:
                grid[_row(value, top=top)][column] = letter
    told = []
    for i, cells in enumerate(grid):
        level = top * (HEIGHT - 1 - i) / (HEIGHT - 1)
        label = f"{100.0 * line:.0f} %" if i == mark else f"{100.0 * level:.0f} %" if i in (0, HEIGHT - 1) else ""
        told.append(f"{label:>{_MARGIN - 1}} |{''.join(cells)}")
    told.append(" " * _MARGIN + "+" + "-" * across)
    return told


def _row(value: float, *, top: float) -> int:
    share = min(max(value / top, 0.0), 1.0)
    return HEIGHT - 1 - round(share * (HEIGHT - 1))


def _between(x: Sequence[float], curve: Sequence[float | None], *, at: float) -> float | None:
    """The curve between its points, None beside a point without a value."""
    i = 0
    while i < len(x) - 2 and x[i + 1] < at:
        i += 1
    one, two = curve[i], curve[i + 1]
    if one is None or two is None:
        return None
    step = x[i + 1] - x[i]
    return one + (two - one) * min(max((at - x[i]) / step if step else 0.0, 0.0), 1.0)
