"""The bands of film that a new database begins with."""

from __future__ import annotations

from typing import Any

from django.apps import apps as installed
from django.db import DEFAULT_DB_ALIAS

from asfound.measure.base_of_films import BANDS
from asfound.record.convert.film_base import fields_of_band


def give_first_bands(
    *, apps: Any = installed, using: str = DEFAULT_DB_ALIAS, **_signal: Any
) -> None:
    """Write the program's bands where the table never held a row.

    Rows are never deleted, so an empty table is a new one; what the workshop withdrew does not
    come back.
    """
    try:
        model = apps.get_model("record", "FilmBand")
    except LookupError:  # migrated back to before there were bands
        return
    rows = model._default_manager.using(using)
    if not rows.exists():
        rows.bulk_create(model(**fields_of_band(band)) for band in BANDS)
