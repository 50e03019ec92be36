"""The rig drawn to scale."""
