"""Findings: entered at the car, seen on panel and photograph, told in a condition report."""
