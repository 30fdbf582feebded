"""Gaps and fit: how shut lines run and whether left mirrors right."""

from asfound.measure.gaps.edge import EdgeFit, EdgeReading, Run, read_edge
from asfound.measure.gaps.read import (
    ASSUMED_U_MM,
    Against,
    EdgeGround,
    EdgeResult,
    GapResult,
    GapSurvey,
    TwinResult,
    read_gaps,
)
from asfound.measure.gaps.symmetry import MirrorPair, Shift, mirror

__all__ = [
    "ASSUMED_U_MM",
    "Against",
    "EdgeFit",
    "EdgeGround",
    "EdgeReading",
    "EdgeResult",
    "GapResult",
    "GapSurvey",
    "MirrorPair",
    "Run",
    "Shift",
    "TwinResult",
    "mirror",
    "read_edge",
    "read_gaps",
]
