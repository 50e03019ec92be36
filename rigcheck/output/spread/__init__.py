"""What the study of spread says."""
