"""The floor sheet between its supports."""
