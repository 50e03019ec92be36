"""Independent frames that the statics are held against."""
