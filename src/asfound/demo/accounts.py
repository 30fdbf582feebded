"""Ways to sign in to the demo; the people behind them are invented.

Their names begin with ``demo`` so that no account of a real workshop is touched.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass

_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Without those that look alike on a screen."""
_GROUPS, _LETTERS_A_GROUP = 3, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """A name to sign in with, its role, and what it may do."""

    name: str
    role: str
    may: str
    password: str


def new_accounts() -> tuple[Account, ...]:
    """One account a role, each with a password made at random."""
    return tuple(
        Account(name=name, role=role, may=may, password=_password())
        for name, role, may in (
            ("demo-head", "head", "runs the workshop"),
            ("demo-trimmer", "craftsperson", "enters readings and finds parts"),
            ("demo-owner", "owner", "sees this car as its owner, answers and signs"),
        )
    )


def _password() -> str:
    letters = [secrets.choice(_LETTERS) for _ in range(_GROUPS * _LETTERS_A_GROUP)]
    return "-".join("".join(letters[group::_GROUPS]) for group in range(_GROUPS))
