"""Checks against published and independent values."""
