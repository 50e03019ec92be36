"""What the comparison of further supports says."""
