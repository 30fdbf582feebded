"""What a car needs of original material, and which pieces of the salvage stock serve."""
