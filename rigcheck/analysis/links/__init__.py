"""What the links of a line may carry and how much they give, from the case."""
