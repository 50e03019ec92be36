"""Case files that cannot be used, made from good ones."""
