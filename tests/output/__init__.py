"""What people and machines read."""
