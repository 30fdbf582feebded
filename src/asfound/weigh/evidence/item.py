"""One item of evidence, and the two statements that items speak for or against."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError

Basis = Literal["measured", "data", "experience", "guess"]
BY_EYE = frozenset({"experience", "guess"})
"""Bases on which a ratio is somebody's judgement and is held to the cap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """An item of evidence with the likelihood ratio that somebody or something gives it.

    Parameters
    ----------
    item : str
        What was seen, in words.
    lr : float
        How many times more probable it is under the statement than under the alternative;
        above zero and finite. With ``given``, both probabilities are conditional on that item.
    basis : {"measured", "data", "experience", "guess"}
        What the ratio rests on; the last two are ratios by eye.
    cause : str
        What else would move with it: one plate, one witness, one invoice. Empty for nothing.
    given : str
        Item of the same cause on which this ratio is conditional; empty for none.
    by, note : str
        Who gives the ratio, and what they add.
    derived_from : tuple of str
        Rooms of the record that the program derived it from; empty where a person wrote it.
    derived_row : str
        Which row of that room: the name of an event, or the mark of a row; empty where it rests
        on many.

    Raises
    ------
    InputError
        If the ratio is not above zero and finite, or ``given`` stands without a cause.
    """

    item: str
    lr: float
    basis: Basis
    cause: str = ""
    given: str = ""
    by: str = ""
    note: str = ""
    derived_from: tuple[str, ...] = ()
    derived_row: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.lr) and self.lr > 0):
            raise InputError(
                field="lr",
                got=self.lr,
                allowed="above zero and finite",
                remedy="Nothing seen is proof: say how many times more probable it is.",
            )
        if self.given and not self.cause:
            raise InputError(
                field="given",
                got=self.given,
                allowed="empty where the item has no cause",
                remedy="Name the cause that the two items share.",
            )

    @property
    def by_eye(self) -> bool:
        """Whether the ratio is somebody's judgement."""
        return self.basis in BY_EYE


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A statement on a part or a panel, its alternative, and the items that speak to them.

    Parameters
    ----------
    subject : str
        Part or panel.
    statement, alternative : str
        Two statements that exclude each other.
    items : tuple of Item

    Raises
    ------
    InputError
        If the two statements are one.
    """

    subject: str
    statement: str
    alternative: str
    items: tuple[Item, ...] = ()

    def __post_init__(self) -> None:
        if same_words(self.statement) == same_words(self.alternative):
            raise InputError(
                field="alternative",
                got=self.alternative,
                allowed="another statement, one that excludes the first",
            )

    @property
    def key(self) -> tuple[str, str, str]:
        """What makes two claims one: subject and both statements, whatever their capitals."""
        return (
            same_words(self.subject),
            same_words(self.statement),
            same_words(self.alternative),
        )


def same_words(text: str) -> str:
    """Text by which two entries count as the same words, whatever capitals and spaces they have."""
    return " ".join(text.casefold().split())
