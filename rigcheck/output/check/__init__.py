"""The result of a check as data, and its screen."""
