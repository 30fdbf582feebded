"""Polishing: what passes took, what is left above the floors, entering spots before and after."""
