"""The perch post, its base and its knee brace."""
