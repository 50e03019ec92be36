"""What would cure a rig that is over."""
