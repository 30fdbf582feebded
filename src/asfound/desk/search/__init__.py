"""Searching the whole record as one types."""
