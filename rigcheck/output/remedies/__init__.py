"""What the remedies say."""
