"""What the study of one variable says."""
