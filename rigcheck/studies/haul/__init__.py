"""Parking and hauling."""
