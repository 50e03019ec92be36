"""How sure a verdict is."""
