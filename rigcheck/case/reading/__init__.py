"""From the bytes of a file to a case, or to all of its problems at once."""
