"""Photographs: sent in, sorted, looked at, marked, laid over each other, and what is missing."""
