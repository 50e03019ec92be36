"""Published tables, each row with its source: shapes, steel, rope, hardware, tie-downs, materials."""
