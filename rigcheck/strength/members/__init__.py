"""Members and sheet: compression, bending, shear, and all of them at once."""
