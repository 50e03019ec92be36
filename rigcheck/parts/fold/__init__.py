"""The fold: what holds the box on its way up."""
