"""How one kind of withdrawal is taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What is taken back, by which action, and what is said then."""

    model: Any
    restore: Callable[..., Any]
    field: str
    told: str
