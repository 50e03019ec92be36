"""Parts, one file each or several."""
