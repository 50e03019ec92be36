"""Capacities of parts: numbers in, numbers out, no word of the rig they belong to."""
