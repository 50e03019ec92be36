"""What the field study says."""
