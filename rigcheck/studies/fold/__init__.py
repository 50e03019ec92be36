"""The fold from deployed to folded."""
