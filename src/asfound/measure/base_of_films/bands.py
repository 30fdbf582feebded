"""Bands of film thickness that others have published; shown beside a reading, never mixed in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from asfound.base import InputError

DISAGREE = (
    "The sources disagree with one another, and none of them measured the car at hand. They are "
    "shown beside the readings and enter no figure. No total thickness by itself tells filler, and "
    "none tells whether a finish is undisturbed since built: compare the panels of the same car."
)

About = Literal["factory", "repainted", "filler"]
Status = Literal[
    "looked up",
    "looked up, low authority",
    "common practice, no source",
    "measured in this workshop",
]

MODERN_SINCE = 1980
"""Year from which "modern" is taken to speak, and before which "older": the sources give none;
this is the program's reading of them, from memory, for the workshop to change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmBand:
    """One row: what some source says of the total film.

    Parameters
    ----------
    about : {"factory", "repainted", "filler"}
        What the source speaks of.
    era : str
        The time or kind of car in the source's own words.
    low_um, high_um : float
        The band [µm], ``high_um`` infinite for "more than".
    source, status : str
        Who says so, and how far that was followed up. Rows of one source bear one name, for
        evidence of one source is never multiplied with itself.
    note : str
        What the source adds, such as the band in its own unit.
    marque : str
        The only marque that the source speaks of; empty for any.
    first_year, last_year : int or None
        Years of building that the row is held to speak of, both included; ``None`` is open.

    Raises
    ------
    InputError
        If the band or the years run backwards, or there is no source.
    """

    about: About
    era: str
    low_um: float
    high_um: float
    source: str
    status: Status
    note: str = ""
    marque: str = ""
    first_year: int | None = None
    last_year: int | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.low_um < self.high_um:
            raise InputError(
                field="band",
                got=f"{self.low_um:g} to {self.high_um:g} µm",
                allowed="zero or more at its low end, and more at its high end",
            )
        if not self.source.strip():
            raise InputError(
                field="source", got=self.source, allowed="given: who says so, and where"
            )
        first, last = self.first_year, self.last_year
        if first is not None and last is not None and first > last:
            raise InputError(
                field="years", got=f"{first} to {last}", allowed="the earlier year first"
            )

    def holds(self, level_um: float) -> bool:
        """Whether a level in µm lies in the band."""
        return self.low_um <= level_um <= self.high_um

    def fits(self, *, first_year: int | None, last_year: int | None, marque: str) -> bool:
        """Whether it speaks of a car of that marque, built between those years.

        What is not known of the car, or not said by the source, excludes nothing.
        """
        ours = marque.strip().casefold()
        if self.marque and ours and self.marque.strip().casefold() != ours:
            return False
        begins, ends = _open(self.first_year, -math.inf), _open(self.last_year, math.inf)
        return begins <= _open(last_year, math.inf) and _open(first_year, -math.inf) <= ends

    @property
    def words(self) -> str:
        """The band in µm, as "500 to 600 µm" or "more than 300 µm"."""
        if math.isinf(self.high_um):
            return f"more than {self.low_um:.0f} µm"
        if self.low_um == 0:
            return f"at most {self.high_um:.0f} µm"
        return f"{self.low_um:.0f} to {self.high_um:.0f} µm"

    def place_of(self, level_um: float) -> str:
        """Where a level in µm lies: "in it", "below it" or "above it"."""
        if self.holds(level_um):
            return "in it"
        return "below it" if level_um < self.low_um else "above it"


def _open(year: int | None, end: float) -> float:
    return end if year is None else year


def _row(
    about: About,
    era: str,
    band_um: tuple[float, float],
    source: str,
    *,
    note: str = "",
    years: tuple[int | None, int | None] = (None, None),
    status: Status = "looked up, low authority",
) -> FilmBand:
    return FilmBand(
        about=about,
        era=era,
        low_um=band_um[0],
        high_um=band_um[1],
        source=source,
        status=status,
        note=note,
        first_year=years[0],
        last_year=years[1],
    )


_MODERN = (MODERN_SINCE, None)
_OLDER = (None, MODERN_SINCE - 1)
_TRADE: Status = "common practice, no source"

BANDS: tuple[FilmBand, ...] = (
    _row(
        "factory",
        "modern",
        (102, 152),
        "a collision-repair training body, bulletin on measuring film",
        note="4 to 6 mil",
        years=_MODERN,
        status="looked up",
    ),
    _row("factory", "modern", (100, 180), "two trade pages", note="4 to 7 mil", years=_MODERN),
    _row("factory", "modern", (100, 110), "a trade page", note="sum of coats", years=_MODERN),
    _row(
        "factory",
        "modern, East Asian",
        (70, 140),
        "three trade answers",
        note="they differ",
        years=_MODERN,
    ),
    _row(
        "factory",
        "modern, Central European",
        (90, 180),
        "three trade answers",
        note="they differ",
        years=_MODERN,
    ),
    _row(
        "factory",
        "1977, North American",
        (64, 76),
        "an owners' forum",
        note="2.5 to 3 mil",
        years=(1977, 1977),
    ),
    _row(
        "factory",
        "powder-primed, North American",
        (114, 216),
        "an owners' forum",
        note="two works, one model, 4.5 to 8.5 mil",
        years=_MODERN,
    ),
    _row(
        "factory",
        "older, when new",
        (152, 203),
        "a trade weekly, 2010",
        note="6 to 8 mil",
        years=_OLDER,
    ),
    _row(
        "factory",
        "1960s, finished by hand",
        (500, 600),
        "what the trade says",
        note="about 550 µm in all; more than 500 is normal",
        years=(1960, 1969),
        status=_TRADE,
    ),
    _row(
        "factory",
        "modern",
        (0, 180),
        "what the trade says",
        note="a modern car leaves the works with at most about 180 µm",
        years=_MODERN,
        status=_TRADE,
    ),
    _row(
        "repainted",
        "older",
        (254, math.inf),
        "a trade weekly, 2010",
        note="probably, above 10 mil",
        years=_OLDER,
    ),
    _row("repainted", "older, by hand or again", (200, math.inf), "a trade page", years=_OLDER),
    _row("repainted", "any", (200, 500), "three trade pages", note="they differ"),
    _row(
        "repainted",
        "1967, three finishes or more, no filler",
        (381, 508),
        "a car page, 2018",
        note="15 to 20 mil; contradicts filler above 300 µm",
        years=(1967, 1967),
    ),
    _row("filler", "any", (300, math.inf), "a trade page"),
    _row("filler", "any", (500, math.inf), "another trade page"),
    _row("filler", "any", (1000, math.inf), "a third trade page"),
)
