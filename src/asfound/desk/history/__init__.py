"""When things happened, in what order, and which statements clash."""
