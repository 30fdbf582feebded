"""The unfolded sheet: drawn from a tape, corrected corner by corner, traced over a photograph."""
