"""What the proof load says."""
