"""What stands beside a car's reading: published bands, the workshop's own cars, and no figure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from asfound.base import Estimate
from asfound.desk.survey.expected import Expectation, expectation
from asfound.desk.survey.strips import Strip, Tick, place, strip, ticks
from asfound.measure.base_of_films import DISAGREE
from asfound.measure.film import FilmReading
from asfound.record.actions.band_evidence import LATER_WORK, UNDISTURBED
from asfound.record.convert.film_base import band_of
from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder
from asfound.record.models import Car, FilmBand
from asfound.record.reads import band_sources, bands_beside
from asfound.weigh import weight_in_words

_HEADS = {
    "factory": "A factory finish",
    "repainted": "A repaint",
    "filler": "Filler",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BandLine:
    """One band: what the source says, and where the levels of this car lie."""

    row: FilmBand
    words: str
    years: str
    strip: Strip
    car_lies: str
    panel_lies: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BandGroup:
    """Bands that speak of the same thing."""

    head: str
    lines: list[BandLine]


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceLine:
    """A band that a person turned into evidence."""

    subject: str
    item: str
    words: str
    lr: str
    basis: str
    cause: str
    by: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """All that is shown beside a reading and enters none of its figures."""

    groups: list[BandGroup]
    disagree: str
    ticks: tuple[Tick, ...]
    level_at: str
    panel: str
    panel_at: str
    expected: Expectation | None
    evidence: list[EvidenceLine]
    built: str


def beside(car: Car, folder: CarFolder, reading: FilmReading | None, *, panel: str = "") -> Beside:
    """What stands beside the reading of a car, or of one of its panels too."""
    level = reading.level_um if reading else None
    median = _median(reading, panel)
    return Beside(
        groups=band_groups(bands_beside(car), level=level, panel_um=median),
        disagree=DISAGREE,
        ticks=ticks(),
        level_at=place(level.value) if level else "",
        panel=panel if median is not None else "",
        panel_at=place(median) if median is not None else "",
        expected=expectation(car, level, panel_um=median),
        evidence=_evidence(folder),
        built=car.built,
    )


def band_groups(
    rows: Iterable[FilmBand], *, level: Estimate | None = None, panel_um: float | None = None
) -> list[BandGroup]:
    """Bands by what they speak of, in the order given."""
    lines = [_line(row, level, panel_um) for row in rows]
    groups = [
        BandGroup(head=head, lines=[line for line in lines if line.row.about == about])
        for about, head in _HEADS.items()
    ]
    return [group for group in groups if group.lines]


def support_words(lr: float) -> str:
    """Likelihood ratio for "undisturbed since built" in the words of the scale."""
    weight = weight_in_words(lr)
    if weight.favours == "neither":
        return "neutral, neither for nor against"
    side = UNDISTURBED if weight.favours == "statement" else "later work"
    return f"{weight.degree} support for {side}"


def _line(row: FilmBand, level: Estimate | None, panel_um: float | None) -> BandLine:
    band = band_of(row)
    return BandLine(
        row=row,
        words=band.words,
        years=_years(row.first_year, row.last_year),
        strip=strip(band.low_um, band.high_um),
        car_lies=band.place_of(level.value) if level else "",
        panel_lies=band.place_of(panel_um) if panel_um is not None else "",
    )


def _years(first: int | None, last: int | None) -> str:
    if first is None and last is None:
        return "any year"
    if first is None:
        return f"until {last}"
    if last is None:
        return f"from {first}"
    return str(first) if first == last else f"{first} to {last}"


def _median(reading: FilmReading | None, panel: str) -> float | None:
    for found in reading.panels if reading else ():
        if found.panel == panel and found.spots_n:
            return found.median_um
    return None


def _evidence(folder: CarFolder) -> list[EvidenceLine]:
    rows = [
        row
        for row in folder.sheet("evidence")
        if counts(row)
        and (row.text("statement"), row.text("alternative")) == (UNDISTURBED, LATER_WORK)
    ]
    sources = band_sources() if rows else frozenset()
    return [
        EvidenceLine(
            words=support_words(row.number("lr")) if row.number("lr") > 0 else "not known",
            **{
                name: row.text(name)
                for name in ("subject", "item", "lr", "basis", "cause", "by", "note")
            },
        )
        for row in rows
        if row.text("cause") in sources
    ]
