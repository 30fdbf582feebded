"""What to do with each piece: the exact choice over the whole car."""
