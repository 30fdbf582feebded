"""The log of a car: who wrote what, and when."""
