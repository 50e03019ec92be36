"""Tests of geometry, balance, rails and deflection."""
