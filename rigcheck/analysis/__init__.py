"""The rig solved in every load case, and what of it a part may ask for."""
