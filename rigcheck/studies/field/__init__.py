"""Readings on the finished rig beside the case."""
