"""One key varied: its limits, its batch, its case, what follows it."""
