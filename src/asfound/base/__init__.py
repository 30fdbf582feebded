"""What every room of the core shares: estimates with uncertainty and typed errors."""

from asfound.base.errors import (
    AsfoundError,
    EnoughError,
    InputError,
    NoSolutionError,
    NotEnoughEvidenceError,
    StoppedError,
)
from asfound.base.estimate import Estimate

__all__ = [
    "AsfoundError",
    "EnoughError",
    "Estimate",
    "InputError",
    "NoSolutionError",
    "NotEnoughEvidenceError",
    "StoppedError",
]
