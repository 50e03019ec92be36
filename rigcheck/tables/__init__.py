"""Published tables, each row with its source: shapes, steel, rope, hardware, tie-downs, materials."""

from rigcheck.tables import browse, hardware, materials, rope, shapes, steel, tiedown
from rigcheck.tables.errors import ShapeError, TableError

__all__ = ["ShapeError", "TableError", "browse", "hardware", "materials", "rope", "shapes", "steel", "tiedown"]
