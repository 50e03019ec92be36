"""The deepest settled bed at which nothing is over."""
