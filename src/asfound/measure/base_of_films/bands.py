"""Bands of film thickness that others have published; shown beside a reading, never mixed in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

DISAGREE = (
    "These sources disagree with one another, some by a factor of three, and none was written for "
    "this car. They are shown beside the readings and do not enter any figure. No total thickness "
    "by itself tells filler, and none tells that a finish is original: compare the panels of the "
    "same car."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmBand:
    """One row: what some source says of the total film; copy the tuple and change it at will.

    ``low_um`` to ``high_um`` is the band, ``high_um`` infinite for "more than". ``about`` says
    whether the source speaks of a factory finish, a repaint or filler.
    """

    about: Literal["factory", "repainted", "filler"]
    era: str
    low_um: float
    high_um: float
    source: str
    status: Literal["looked up, low authority", "looked up", "common practice, no source"]

    def holds(self, level_um: float) -> bool:
        """Whether a level in µm lies in the band."""
        return self.low_um <= level_um <= self.high_um


def _row(
    about: Literal["factory", "repainted", "filler"],
    era: str,
    band_um: tuple[float, float],
    source: str,
) -> FilmBand:
    return FilmBand(
        about=about,
        era=era,
        low_um=band_um[0],
        high_um=band_um[1],
        source=source,
        status="looked up, low authority",
    )


BANDS: tuple[FilmBand, ...] = (
    FilmBand(
        about="factory",
        era="modern",
        low_um=102,
        high_um=152,
        source="a collision-repair training body, bulletin on measuring film (4 to 6 mil)",
        status="looked up",
    ),
    _row("factory", "modern", (100, 180), "two trade pages, 4 to 7 mil"),
    _row("factory", "modern", (100, 110), "a trade page, sum of coats"),
    _row("factory", "modern, East Asian", (70, 140), "three trade answers that differ"),
    _row("factory", "modern, Central European", (90, 180), "three trade answers that differ"),
    _row("factory", "1977, North American", (64, 76), "an owners' forum, 2.5 to 3 mil"),
    _row(
        "factory",
        "powder-primed, North American",
        (114, 216),
        "the same forum: two works, one model, 4.5 to 8.5 mil",
    ),
    _row("factory", "older, when new", (152, 203), "a trade weekly, 2010, 6 to 8 mil"),
    FilmBand(
        about="factory",
        era="1960s, finished by hand",
        low_um=500,
        high_um=600,
        source="about 550 µm in all; more than 500 is normal",
        status="common practice, no source",
    ),
    FilmBand(
        about="factory",
        era="modern",
        low_um=0,
        high_um=180,
        source="leaves the works with at most about 180 µm",
        status="common practice, no source",
    ),
    _row("repainted", "older", (254, math.inf), "the same trade weekly: probably, above 10 mil"),
    _row("repainted", "older, by hand or again", (200, math.inf), "a trade page"),
    _row("repainted", "any", (200, 500), "three trade pages that differ"),
    _row(
        "repainted",
        "1967, three finishes or more, no filler",
        (381, 508),
        "a car page, 2018, 15 to 20 mil; contradicts filler above 300 µm",
    ),
    _row("filler", "any", (300, math.inf), "a trade page"),
    _row("filler", "any", (500, math.inf), "another trade page"),
    _row("filler", "any", (1000, math.inf), "a third trade page"),
)
