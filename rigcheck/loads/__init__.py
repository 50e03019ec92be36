"""What presses on the box in each state: steel, water, bed, people, motion, wind."""
