"""The plant that carries the rig, and whether it stands."""
