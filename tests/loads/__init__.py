"""Tests of what presses on the box."""
