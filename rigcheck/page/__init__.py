"""The rig on a local page: drawn to scale, changed in shop units, checked whole at each change, saved back."""
