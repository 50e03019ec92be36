"""Broken files, odd cases, drawn rigs: nothing may crash and nothing may pass unseen."""
