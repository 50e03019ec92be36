"""Published tables, each row with its source: shapes, steel, rope, hardware, tie-downs, materials.

Look-ups live in the modules of those names; only the errors stand here, so that one look-up does not load them all.
"""

from rigcheck.tables.errors import ShapeError, TableError

__all__ = ["ShapeError", "TableError"]
