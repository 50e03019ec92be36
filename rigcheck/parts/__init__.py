"""One folder a part: what it needs described, its checks and its findings."""
