"""Tests of the studies."""
