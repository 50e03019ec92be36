"""Straps, stops and eyelets of the folded box."""
