"""The hung box beside the same box on further supports."""
