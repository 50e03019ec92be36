"""Every table and key of a case, as a person writes them."""
