"""Arrays: their type, guarded arithmetic, and how they lie in memory."""
