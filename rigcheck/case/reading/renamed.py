"""Names that keys, values, options and load cases had before: whoever writes one is told the name of today."""

from collections.abc import Mapping
from types import MappingProxyType

LINK_TABLES = ("line.link", "line.backup", "second_line.link")
_OF_LINKS = {
    "travel": "lift",
    "closed_length": "headroom",
    "bend_over": "bend_diameter",
    "ends": "termination",
    "suspends": "rated_to_suspend",
}
KEYS: Mapping[str, str] = MappingProxyType(
    {
        "factors.reserve": "factors.tight_above",
        "factors.line_lost": "factors.line_broken",
        "perch.forward": "perch.downstream",
        "perch.post.brace.foot_forward": "perch.post.brace.foot_downstream",
        "second_line.forward": "second_line.downstream",
        "hinge.keeper": "hinge.pin_retained",
        "line.keeper": "line.backup",
        "line.keeper_slack": "line.backup_slack",
        "haul.travel": "haul.leading_end",
        "measured.dry_weight": "measured.empty_weight",
        "mat.cover": "mat.coverage",
        "ice.cover": "ice.depth",
        "drag": "towing",
        "water.solids_gravity": "water.solids_sg",
        "rail.floor_strip": "rail.effective_floor_width",
        "rail.roll_told": "rail.roll_reported",
        **{f"{table}.{old}": f"{table}.{new}" for table in LINK_TABLES for old, new in _OF_LINKS.items()},
    }
)
"""Key path that was, repeated tables without their number, to the path that is."""

VALUES: Mapping[tuple[str, str], str] = MappingProxyType(
    {
        **{("haul.leading_end", f"{end} first"): end for end in ("head", "tail", "left", "right")},
        ("haul.stop.direction", "forward"): "downstream",
        ("haul.stop.direction", "rearward"): "upstream",
        ("haul.stop.direction", "+x"): "downstream",
        ("haul.stop.direction", "-x"): "upstream",
        ("haul.stop.direction", "+y"): "left",
        ("haul.stop.direction", "-y"): "right",
        ("haul.stop.direction", "+z"): "up",
        ("haul.stop.direction", "-z"): "down",
    }
)
"""Key path of today and the word that was written there, to the word that is."""

OPTIONS: Mapping[str, str] = MappingProxyType({"--reserve": "--max-utilization"})
STATES: Mapping[str, str] = MappingProxyType(
    {"dry": "empty", "cleanup": "cleanout", "dragging": "towing", "line_lost": "line_broken"}
)


def plain_path(location: tuple[str | int, ...]) -> str:
    """A key path without the numbers of its rows."""
    return ".".join(step for step in location if isinstance(step, str))


def old_name_of(path: str) -> str | None:
    """The name that a key of today had, its last step; None where it never had another."""
    old = next((old for old, new in KEYS.items() if new == path), None)
    return None if old is None else old.rpartition(".")[2]


def value_of_today(path: str, *, given: object) -> object:
    """What stands under a key that was renamed, in today's word where that was renamed too."""
    return VALUES.get((path, given), given) if isinstance(given, str) else given
