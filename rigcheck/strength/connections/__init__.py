"""What joins parts: pins, plates on pins, lugs, welds, faces of tubes, tie-downs."""
