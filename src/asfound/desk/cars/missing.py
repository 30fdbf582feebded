"""What the record of a car does not hold yet, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.db.models import Min

from asfound.record.convert.stored import ROWS
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.models.observation import OBSERVED
from asfound.record.models.observed import Observed

_NAMED = 4
_TABLES = {
    "identifiers": "no number is read: chassis, engine, body, paint",
    "panels": "no panel is drawn, so there is no map",
    "film": "no reading of the finish",
    "options": "no options, so nothing can be chosen",
    "parts": "no list of parts",
    "findings": "no findings",
}


def missing(car: Car, folder: CarFolder) -> list[str]:
    """Tables without a row, panels without a reading, gauges without shims, no brief, no photo.

    The database is asked whether there is a row; none of the long tables is read.
    """
    return [
        *(words for name, words in _TABLES.items() if not has_rows(car, folder, name)),
        *_unmeasured(car),
        *_unchecked_gauges(car),
        *([] if folder.brief else ["no brief: the choice has no limit"]),
        *([] if car.kept_files.exists() else ["no photograph"]),
    ]


def has_rows(car: Car, folder: CarFolder, table: str) -> bool:
    """Whether the table of the car has a row that counts."""
    if table in OBSERVED:
        return bool(car.observations.current().filter(table=table).exists())
    model: Any = ROWS.get(table)
    if model is None:
        return bool(len(folder.sheet(table)))
    rows = model._default_manager.filter(car=car)
    return bool((rows.current() if issubclass(model, Observed) else rows).exists())


def _unmeasured(car: Car) -> Iterator[str]:
    measured = set(_film(car).values_list("panel", flat=True).distinct())
    panels = car.panels.values_list("panel", flat=True)
    blank = [panel for panel in panels if panel not in measured]
    if blank and measured:
        yield f"no reading on {_some(blank)}"


def _unchecked_gauges(car: Car) -> Iterator[str]:
    checked = set(car.shim_readings.values_list("gauge", flat=True))
    used = _film(car).values("gauge").annotate(first=Min("position")).order_by("first")
    names = [row["gauge"] for row in used]
    blind = [gauge or "the gauge without a name" for gauge in names if gauge not in checked]
    if blind:
        yield f"no shim readings of {_some(blind)}: its offset and slope are not known"


def _film(car: Car) -> Any:
    return car.film_readings.current().order_by()


def _some(names: list[str]) -> str:
    shown = ", ".join(names[:_NAMED])
    rest = len(names) - _NAMED
    return f"{shown} and {rest} more" if rest > 0 else shown
