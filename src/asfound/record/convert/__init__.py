"""Rows of the record become core types, once."""
