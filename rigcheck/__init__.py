"""Statics and part-by-part checks of a hinged, line-hung mobile sluice box."""

__version__ = "0.1.0"
