"""What the study of the fold says."""
