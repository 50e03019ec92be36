"""One file a command; each brings its function `command`."""
