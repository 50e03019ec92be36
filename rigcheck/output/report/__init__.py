"""The report to the reviewing engineer."""
