"""Traps and troughs as members across the floor, and the welds at their ends."""
