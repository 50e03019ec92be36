"""What the study of hardware says."""
