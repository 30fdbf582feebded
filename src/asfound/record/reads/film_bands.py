"""The workshop's table of bands of film thickness."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import QuerySet

from asfound.record.convert.film_base import band_of
from asfound.record.convert.years import built_years
from asfound.record.models import Car, FilmBand
from asfound.record.models.film_band import About

_ORDER = {about: number for number, about in enumerate(About.values)}


def film_bands() -> list[FilmBand]:
    """Bands that count: factory, repainted, filler, the thinnest first."""
    rows = FilmBand.objects.current().select_related("entered_by")
    return sorted(rows, key=lambda row: (_ORDER[row.about], row.low_um, row.pk))


def film_bands_gone() -> QuerySet[FilmBand]:
    """Bands that were corrected or withdrawn, the last first."""
    gone = FilmBand.objects.exclude(superseded_by=None, withdrawn_at=None)
    return gone.select_related("superseded_by", "withdrawn_by", "entered_by").order_by("-pk")


def bands_beside(car: Car) -> list[FilmBand]:
    """Bands that speak of a car of that marque and year; what is not known excludes none."""
    return fitting(film_bands(), built=car.built, marque=car.marque)


def fitting(rows: Iterable[FilmBand], *, built: str, marque: str) -> list[FilmBand]:
    """Those of the bands that speak of a car of that marque, built then."""
    first, last = built_years(built)
    return [
        row for row in rows if band_of(row).fits(first_year=first, last_year=last, marque=marque)
    ]


def band_sources() -> frozenset[str]:
    """Names of all sources that the table has or had."""
    return frozenset(FilmBand.objects.values_list("source", flat=True).distinct())
