"""Scanning: labels seen by the phone's camera or a hand scanner, parts put into places."""
