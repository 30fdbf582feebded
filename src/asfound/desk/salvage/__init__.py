"""The salvage stock: original material and parts of other cars, for all cars of the workshop."""
