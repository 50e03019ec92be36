"""A link of a line: what it is pulled with, and what wear and a pull off its plane leave of its rating."""

from rigcheck.arrays.guarded import Values, as_array
from rigcheck.arrays.traced import step
from rigcheck.arrays.types import Array

_LINKS = "docs/method.md#links"


def part_share(parts: Values) -> Array:
    """What one of several parts of line carries of the tension, 1/n, shape (...). [1]

    Args:
        parts: Parts of line, shape (...).

    Source: statics.
    """
    return 1.0 / as_array(parts)


def lead_share(parts: Values, *, efficiency: Values) -> Array:
    """What the lead is pulled with over the tension: it pulls against the friction of the sheaves, 1/(n eta). [1]

    Args:
        parts: Parts of line, shape (...).
        efficiency: Of the sheaves together, shape (...).

    Returns:
        Share, shape (...).

    Source: statics; docs/method.md#links.
    """
    return 1.0 / (as_array(parts) * as_array(efficiency))


def link_pull(tension: Values, *, share: Values) -> Array:
    """Pull on a link of a line, shape (...). [lbf]

    Args:
        tension: Of the line, shape (...). [lbf]
        share: What the link carries of it, shape (...). [1]

    Source: statics; docs/method.md#links.
    """
    return step(as_array(tension) * share, "S", "Pull on the link", clause=_LINKS)


def worn(rating: Values, *, wear: Values) -> Array:
    """What wear leaves of a rating, R (1 - w), shape (...). [lbf]

    Args:
        rating: New, shape (...). [lbf]
        wear: Share that is worn away, shape (...). [1]

    Source: docs/method.md#links.
    """
    return as_array(rating) * (1.0 - as_array(wear))


def pulled_aside(strength: Values, *, kept: Values, clause: str = _LINKS) -> Array:
    """What a pull off its plane leaves of a link, shape (...). [lbf]

    Args:
        strength: Pulled in its plane, shape (...). [lbf]
        kept: Share that it keeps, 1 in its plane, shape (...). [1]
        clause: Where the rating is from.

    Source: docs/method.md#links.
    """
    return step(as_array(strength) * kept, "R", "Allowed on the link", clause=clause)
