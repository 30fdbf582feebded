"""In what order and by when."""
