"""A car folder becomes rows of the database."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from asfound.record.convert.stored import ROWS
from asfound.record.convert.stored_cells import fields_of
from asfound.record.convert.stored_locks import decisions_in
from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.models import (
    Brief,
    Car,
    Decision,
    KeptSheet,
    Observation,
)
from asfound.record.models import KeptFile as KeptFileRow
from asfound.record.models.observation import OBSERVED, subject_of
from asfound.record.tables import TABLES


def store_folder(folder: CarFolder, car: Car, *, by: Any = None) -> None:
    """Write the folder into a car that holds no rows yet; the caller opens the transaction.

    Parameters
    ----------
    folder : CarFolder
    car : Car
        Need not be saved; its slug must be set.
    by : user or None
        Who loads it; ``None`` for the command line.
    """
    _store_car(folder, car)
    for name, sheet in folder.sheets.items():
        if name in ROWS:
            store_rows(car, name, sheet, by=by)
        elif name in OBSERVED:
            _store_observations(car, name, sheet, by)
        elif name not in ("car", "locks"):
            KeptSheet.objects.create(car=car, table=name, rows=[list(row) for row in sheet.rows])
    Decision.objects.bulk_create(decisions_in(folder, car, by=by))
    if folder.brief is not None or car.briefs.exists():
        content = None if folder.brief is None else dict(folder.brief)
        Brief.objects.create(car=car, content=content, by=by)
    KeptFileRow.objects.bulk_create(
        KeptFileRow(car=car, path=file.path, sha256=file.sha256, size=file.size)
        for file in folder.files
    )


def _store_car(folder: CarFolder, car: Car) -> None:
    for row in folder.sheet("car"):
        for field, value in fields_of(row, TABLES["car"], Car).items():
            setattr(car, field, value)
    car.heads = {name: list(sheet.columns) for name, sheet in folder.sheets.items()}
    car.package = dict(folder.package)
    car.lift = None if folder.lift is None else dict(folder.lift)
    car.is_invented = folder.package.get("invented") is True
    car.save()


def _store_observations(car: Car, name: str, sheet: Sheet, by: Any) -> None:
    Observation.objects.bulk_create(
        (
            Observation(
                car=car,
                table=name,
                subject=subject_of(row.cells),
                position=position,
                cells=dict(row.cells),
                entered_by=by,
            )
            for position, row in enumerate(sheet)
        ),
        batch_size=500,
    )


def store_rows(car: Car, name: str, rows: Iterable[Row], *, by: Any = None, first: int = 0) -> int:
    """Write rows of a table after each other, the first at position ``first``; their count."""
    model = ROWS[name]
    more = {"entered_by": by} if hasattr(model, "entered_by") else {}
    made = model._default_manager.bulk_create(
        [
            model(car=car, position=position, **fields_of(row, TABLES[name], model), **more)
            for position, row in enumerate(rows, start=first)
        ],
        batch_size=500,
    )
    return len(made)
