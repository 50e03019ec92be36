"""Drawn tests have no deadline: a machine that does other work is slow now and then, and that is no finding."""

from hypothesis import settings

settings.register_profile("patient", deadline=None)
settings.load_profile("patient")
