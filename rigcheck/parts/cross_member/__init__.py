"""Cross-members and end tubes, and the welds at their ends."""
