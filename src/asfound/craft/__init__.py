"""How to do it."""
