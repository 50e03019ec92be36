"""The proof load."""
