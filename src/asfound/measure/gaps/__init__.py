"""Gaps and fit: how shut lines run and whether left mirrors right."""

from asfound.measure.gaps.edge import EdgeFit, EdgeReading, Run, read_edge
from asfound.measure.gaps.symmetry import MirrorPair, Shift, mirror

__all__ = ["EdgeFit", "EdgeReading", "MirrorPair", "Run", "Shift", "mirror", "read_edge"]
