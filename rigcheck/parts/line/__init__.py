"""The lines: their links, whether they reach, how they share, how they hang."""
