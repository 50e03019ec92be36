"""The plant that carries the rig."""
