"""Rows of the database become a car folder, equal to the one that was stored."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

from django.db import models

from asfound.record.convert.in_shop import InShop, in_shop_sheet
from asfound.record.convert.stored_cells import cells_of
from asfound.record.convert.stored_locks import FROM_THE_FOLDER, LOCK, locks_sheet
from asfound.record.folder import CarFolder, KeptFile, Sheet
from asfound.record.models import (
    Car,
    CarRow,
    Decision,
    FilmReading,
    Option,
    OptionLink,
    Panel,
    Part,
    Photo,
    ShimReading,
    ShopCar,
    Subject,
)
from asfound.record.models.observation import OBSERVED
from asfound.record.models.observed import Observed
from asfound.record.tables import TABLES

ROWS: dict[str, type[CarRow]] = {
    "panels": Panel,
    "film": FilmReading,
    "shims": ShimReading,
    "parts": Part,
    "photos": Photo,
    "options": Option,
    "option_links": OptionLink,
    "subjects": Subject,
}
"""Tables with a model of their own. Observed tables share one; every other is kept as text."""


def folder_of(car: Car) -> CarFolder:
    """Car folder of a car of the record, as it stands now.

    Readings are those that count; ``locked_option`` of a subject is what a person decided last.
    A table is read when it is first asked for, so that a page reads no more than it shows; who
    is about to change the car takes ``whole`` of it first.
    """
    latest = car.briefs.last()
    return CarFolder(
        sheets=StoredSheets(car),
        brief=None if latest is None else latest.content,
        lift=car.lift,
        package=car.package,
        files=StoredFiles(car),
    )


def whole(folder: CarFolder) -> CarFolder:
    """The same folder with every table and file name read."""
    if isinstance(folder.sheets, StoredSheets):
        folder.sheets.read_kept()
    return replace(folder, sheets=dict(folder.sheets), files=tuple(folder.files))


class StoredSheets(Mapping[str, Sheet]):
    """Tables of a car of the record, each read when it is first asked for."""

    def __init__(self, car: Car) -> None:
        self._car = car
        self._read: dict[str, Sheet] = {}
        self._decisions: tuple[Decision, ...] | None = None
        self._kept: Mapping[str, Sequence[Sequence[str]]] | None = None

    def __iter__(self) -> Iterator[str]:
        """Names of the tables that the car has."""
        return (name for name in TABLES if self._has(name))

    def __len__(self) -> int:
        """Count the tables that the car has."""
        return sum(1 for _ in self)

    def __getitem__(self, name: str) -> Sheet:
        """Table of that name."""
        if name not in self._read:
            if not self._has(name):
                raise KeyError(name)
            self._read[name] = self._sheet(name, tuple(self._car.heads.get(name, ())))
        return self._read[name]

    def read_kept(self) -> None:
        """Read every table that is kept as text at once, for who is going to read them all."""
        self._kept = dict(self._car.kept_sheets.values_list("table", "rows"))

    def _kept_rows(self, name: str) -> Sequence[Sequence[str]]:
        if self._kept is not None:
            return self._kept.get(name, ())
        kept = self._car.kept_sheets.filter(table=name).first()
        return () if kept is None else kept.rows

    def _has(self, name: str) -> bool:
        if name == "subjects" and self.decisions:
            return True
        if name == "locks" and any(one.reason != FROM_THE_FOLDER for one in self.decisions):
            return True
        if name == "in_shop" and (self._place or InShop()) != InShop():
            return True
        return name in TABLES and bool(self._car.heads.get(name))

    @property
    def decisions(self) -> tuple[Decision, ...]:
        """Decisions that count, in the order they were taken."""
        if self._decisions is None:
            self._decisions = tuple(self._car.decisions.current().select_related("by"))
        return self._decisions

    @cached_property
    def _place(self) -> InShop | None:
        """Where the head put the car in the shop."""
        row = ShopCar.objects.filter(car=self._car).first()
        if row is None:
            return None
        return InShop(priority=row.priority, promised=row.promised, at_work=row.at_work)

    def _sheet(self, name: str, head: tuple[str, ...]) -> Sheet:
        if name == "subjects":
            locks = {one.subject: one.option for one in self.decisions}
            return _subjects(self._car, head, locks)
        if name == "locks":
            return locks_sheet(head, self.decisions)
        if name == "car":
            return _sheet(name, head, Car.objects.filter(pk=self._car.pk))
        if name in ROWS:
            return _sheet(name, head, _rows(self._car, name))
        if name in OBSERVED:
            current = self._car.observations.current().filter(table=name)
            return _observed(head, current.values_list("cells", flat=True))
        sheet = Sheet(columns=head, rows=tuple(map(tuple, self._kept_rows(name))))
        if name == "in_shop" and self._place is not None:
            return in_shop_sheet(self._place, sheet)
        return sheet


class StoredFiles(Sequence[KeptFile]):
    """Files of a car of the record, read when they are first asked for."""

    def __init__(self, car: Car) -> None:
        self._car = car

    @cached_property
    def _files(self) -> tuple[KeptFile, ...]:
        return tuple(
            KeptFile(path=file.path, sha256=file.sha256, size=file.size)
            for file in self._car.kept_files.all()
        )

    def __len__(self) -> int:
        """Count the files."""
        return len(self._files)

    def __getitem__(self, place: Any) -> Any:
        """File at that place, or files."""
        return self._files[place]

    def __eq__(self, other: object) -> bool:
        """Whether they are the same files in the same order."""
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    __hash__ = None  # type: ignore[assignment]  # as for every sequence that may change


def _observed(head: tuple[str, ...], rows: Iterable[Mapping[str, str]]) -> Sheet:
    return Sheet(
        columns=head, rows=tuple(tuple(row.get(column, "") for column in head) for row in rows)
    )


def _rows(car: Car, name: str) -> models.QuerySet[Any]:
    model: Any = ROWS[name]
    rows: models.QuerySet[Any] = model._default_manager.filter(car=car)
    return (
        rows.filter(superseded_by=None, withdrawn_at=None) if issubclass(model, Observed) else rows
    )


def _sheet(name: str, head: tuple[str, ...], rows: models.QuerySet[Any]) -> Sheet:
    return Sheet(columns=head, rows=tuple(cells_of(rows, head, TABLES[name])))


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
