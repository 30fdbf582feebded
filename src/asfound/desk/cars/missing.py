"""What the record of a car does not hold yet, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Min
from django.urls import reverse

from asfound.record.convert.stored import ROWS
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.models.observation import OBSERVED
from asfound.record.models.observed import Observed

_NAMED = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """What is not there yet, and where it is entered: what its link says, and the address."""

    words: str
    way: str
    href: str


def missing(car: Car, folder: CarFolder) -> list[Missing]:
    """What a take-in asks for and the record lacks, in the order in which it is gone through.

    The database is asked whether there is a row; none of the long tables is read.
    """
    return [
        Missing(words=words, way=way, href=reverse(page, args=(car.slug,)))
        for lacks, way, page in _ASKED
        for words in lacks(car, folder)
    ]


Lacks = Callable[[Car, CarFolder], Iterator[str]]


def _row_of(table: str, words: str) -> Lacks:
    def lacks(car: Car, folder: CarFolder) -> Iterator[str]:
        if not has_rows(car, folder, table):
            yield words

    return lacks


def has_rows(car: Car, folder: CarFolder, table: str) -> bool:
    """Whether the table of the car has a row that counts."""
    if table in OBSERVED:
        return bool(car.observations.current().filter(table=table).exists())
    model: Any = ROWS.get(table)
    if model is None:
        return bool(len(folder.sheet(table)))
    rows = model._default_manager.filter(car=car)
    return bool((rows.current() if issubclass(model, Observed) else rows).exists())


def _unmeasured(car: Car, _folder: CarFolder) -> Iterator[str]:
    measured = set(_film(car).values_list("panel", flat=True).distinct())
    panels = car.panels.values_list("panel", flat=True)
    blank = [panel for panel in panels if panel not in measured]
    if blank and measured:
        yield f"no reading on {_some(blank)}"


def _unchecked_gauges(car: Car, _folder: CarFolder) -> Iterator[str]:
    checked = set(car.shim_readings.values_list("gauge", flat=True))
    used = _film(car).values("gauge").annotate(first=Min("position")).order_by("first")
    names = [row["gauge"] for row in used]
    blind = [gauge or "the gauge without a name" for gauge in names if gauge not in checked]
    if blind:
        yield f"no shim readings of {_some(blind)}: its offset and slope are not known"


def _photograph(car: Car, _folder: CarFolder) -> Iterator[str]:
    if not car.kept_files.exists():
        yield "no photograph"


def _brief(_car: Car, folder: CarFolder) -> Iterator[str]:
    if not folder.brief:
        yield "no brief: the choice has no limit"


def _film(car: Car) -> Any:
    return car.film_readings.current().order_by()


def _some(names: list[str]) -> str:
    shown = ", ".join(names[:_NAMED])
    rest = len(names) - _NAMED
    return f"{shown} and {rest} more" if rest > 0 else shown


_ASKED: tuple[tuple[Lacks, str, str], ...] = (
    (
        _row_of("identifiers", "no number is read: chassis, engine, body, paint"),
        "write them down as read",
        "numbers",
    ),
    (
        _row_of("events", "nothing of its history: papers, invoices, what is told"),
        "write an event down",
        "add-event",
    ),
    (_photograph, "see which views", "wanted-photos"),
    (_row_of("findings", "no findings"), "enter one", "add-finding"),
    (_row_of("parts", "no list of parts"), "enter an assembly", "enter-assembly"),
    (_row_of("panels", "no panel is drawn, so there is no map"), "draw them", "draw-again"),
    (_row_of("film", "no reading of the finish"), "measure on the map", "survey"),
    (_unmeasured, "see the map", "survey"),
    (_unchecked_gauges, "upload them", "load-film"),
    (_brief, "enter its limits", "edit-brief"),
    (
        _row_of("options", "no options, so nothing can be chosen"),
        "have some offered",
        "offered-options",
    ),
)
"""What may lack, what the link says, and the page on which it is entered."""
