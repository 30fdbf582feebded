"""The colour of a car: entered at the car, read by light and observer, seen on its sheet."""
