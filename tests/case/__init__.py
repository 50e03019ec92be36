"""Tests of the case room."""
