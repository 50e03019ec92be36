"""Pages that are written from the models."""
