"""Gaps and fit: how edges run, whether left mirrors right, entering gap and flush."""
