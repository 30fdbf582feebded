"""Classes that identity documents give a car, each under the edition of its code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from asfound.base import InputError

TYPE, GROUP = "vehicle type", "preservation group"
CODES: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        TYPE: MappingProxyType(
            {
                "A": "standard: as supplied by the maker, minor period accessories allowed",
                "B": "period modified: built or modified in period for a particular purpose",
                "C": "copy or replica, built out of period and dated by its completion",
                "D": "modified out of period in a way typical of the period",
                "E": "exception: changed out of period with parts not of the period",
            }
        ),
        GROUP: MappingProxyType(
            {
                "1": "authentic, as built: hardly worn, all original with interior and finish",
                "2": "original: used, never restored, with a known history",
                "3": "restored: known identity, taken apart, reconditioned and put together",
                "4": "rebuilt of parts of one or more cars of the same model",
            }
        ),
    }
)
"""Meanings in the international code of 2010 and older ones, shortened in our words; the code of
2020 has no chapter on classes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PreservationClass:
    """A class as a document gives it; without the edition of its code it says nothing.

    Parameters
    ----------
    code : {"vehicle type", "preservation group"}
    given : str
        Letter A to E, or figure 1 to 4.
    edition : str
        Edition of the code; may not be empty.
    document : str
        The paper that gives it.
    """

    code: str
    given: str
    edition: str
    document: str = ""

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise InputError(field="code", got=self.code, allowed=" or ".join(CODES))
        if self.given not in CODES[self.code]:
            raise InputError(
                field="class", got=self.given, allowed=f"one of {', '.join(CODES[self.code])}"
            )
        if not self.edition.strip():
            raise InputError(
                field="edition",
                got=self.edition,
                allowed="the edition of the code",
                remedy="Write the year that the document names.",
            )

    @property
    def words(self) -> str:
        """Class, code and edition in words."""
        meaning = CODES[self.code][self.given]
        return f"{self.code} {self.given} under the code's edition {self.edition} ({meaning})"
