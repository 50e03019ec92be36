"""What the study of the haul says."""
