"""Studies built on the checks: what a change does, how sure the answer is, and what a second method says."""
