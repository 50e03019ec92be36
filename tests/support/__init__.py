"""What several tests share: rigs, readers, draws."""
