"""The shop card."""
