"""What the materials list says."""
