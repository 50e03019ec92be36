"""What the study of the plant says."""
