"""Hanger and perch lugs."""
