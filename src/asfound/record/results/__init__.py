"""What the core computed, in the shapes of the contract."""
