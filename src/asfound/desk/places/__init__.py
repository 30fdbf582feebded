"""Places of the workshop: what is in them, and what a scanned label opens."""
