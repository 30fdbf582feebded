"""A car folder becomes rows of the database, and rows a car folder, equal to what was stored."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import models

from asfound.record.convert.stored_cells import cell_of, fields_of
from asfound.record.folder import CarFolder, KeptFile, Row, Sheet
from asfound.record.models import (
    Brief,
    Car,
    CarRow,
    Decision,
    FilmReading,
    KeptSheet,
    Observation,
    Option,
    OptionLink,
    Panel,
    ShimReading,
    Subject,
)
from asfound.record.models import KeptFile as KeptFileRow
from asfound.record.models.observation import OBSERVED, subject_of
from asfound.record.tables import TABLES

ROWS: dict[str, type[CarRow]] = {
    "panels": Panel,
    "film": FilmReading,
    "shims": ShimReading,
    "options": Option,
    "option_links": OptionLink,
    "subjects": Subject,
}
"""Tables with a model of their own. Observed tables share one; every other is kept as text."""

FROM_THE_FOLDER = "from the car folder"
LOCK = "locked_option"


def folder_of(car: Car) -> CarFolder:
    """Car folder of a car of the record, as it stands now.

    Readings are those that count; ``locked_option`` of a subject is what a person decided last.
    """
    latest = car.briefs.last()
    return CarFolder(
        sheets=_sheets(car),
        brief=None if latest is None else latest.content,
        lift=car.lift,
        package=car.package,
        files=tuple(
            KeptFile(path=file.path, sha256=file.sha256, size=file.size)
            for file in car.kept_files.all()
        ),
    )


def _sheets(car: Car) -> dict[str, Sheet]:
    kept = {sheet.table: sheet.rows for sheet in car.kept_sheets.all()}
    observed: dict[str, list[dict[str, str]]] = {}
    for table, cells in car.observations.current().values_list("table", "cells"):
        observed.setdefault(table, []).append(cells)
    locks = dict(car.decisions.current().values_list("subject", "option"))
    found: dict[str, Sheet] = {}
    for name in TABLES:
        head = tuple(car.heads.get(name, ()))
        if name == "subjects":
            if head or locks:
                found[name] = _subjects(car, head, locks)
        elif head and name == "car":
            found[name] = _sheet(name, head, (car,))
        elif head and name in ROWS:
            found[name] = _sheet(name, head, _rows(car, name))
        elif head and name in OBSERVED:
            found[name] = _observed(head, observed.get(name, ()))
        elif head:
            found[name] = Sheet(columns=head, rows=tuple(map(tuple, kept.get(name, ()))))
    return found


def _observed(head: tuple[str, ...], rows: Iterable[Mapping[str, str]]) -> Sheet:
    return Sheet(
        columns=head, rows=tuple(tuple(row.get(column, "") for column in head) for row in rows)
    )


def _rows(car: Car, name: str) -> Iterable[models.Model]:
    if name == "film":
        return FilmReading.objects.current().filter(car=car)
    return ROWS[name]._default_manager.filter(car=car)


def _sheet(name: str, head: tuple[str, ...], rows: Iterable[models.Model]) -> Sheet:
    return Sheet(
        columns=head,
        rows=tuple(tuple(cell_of(row, column, TABLES[name]) for column in head) for row in rows),
    )


def _subjects(car: Car, head: tuple[str, ...], locks: Mapping[str, str]) -> Sheet:
    """Subjects with their locks; a locked one that no row names gets a row at the end."""
    head = head or ("subject", "weight", "min_grade", LOCK)
    if locks and LOCK not in head:
        head = (*head, LOCK)
    listed = _sheet("subjects", head, _rows(car, "subjects"))
    seen = [row.text("subject") for row in listed]
    more = [dict.fromkeys(head, "") | {"subject": s} for s in locks if s not in set(seen)]
    everything = [dict(row.cells) for row in listed] + more
    for cells in everything:
        if LOCK in head:
            cells[LOCK] = locks.get(cells["subject"], "")
    return Sheet(columns=head, rows=tuple(tuple(cells.values()) for cells in everything))


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
        elif name != "car":
            KeptSheet.objects.create(car=car, table=name, rows=[list(row) for row in sheet.rows])
    Decision.objects.bulk_create(
        Decision(
            car=car,
            subject=row.text("subject"),
            option=row.text(LOCK),
            reason=FROM_THE_FOLDER,
            by=by,
        )
        for row in folder.sheet("subjects")
        if row.text(LOCK)
    )
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
    more = {"entered_by": by} if model is FilmReading else {}
    made = model._default_manager.bulk_create(
        [
            model(car=car, position=position, **fields_of(row, TABLES[name], model), **more)
            for position, row in enumerate(rows, start=first)
        ],
        batch_size=500,
    )
    return len(made)
