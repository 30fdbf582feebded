"""The cars: the list, loading a car folder, and a car's sheet."""
