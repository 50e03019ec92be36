"""The rig solved in every load case."""
