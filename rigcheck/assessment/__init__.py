"""States times parts to demands, capacities, findings and a verdict."""
