"""How keys are declared: kinds of value, sections, and the walk over all of them."""
