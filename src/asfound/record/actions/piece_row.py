"""The row of ``subjects.csv`` that says more of a piece, made where it has none yet."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Max

from asfound.base import InputError
from asfound.record.models import Car, Subject

_HEAD = ("subject", "weight", "min_grade", "zone")


def row_of_piece(car: Car, subject: str) -> Subject:
    """Row of the piece; a new one, last and not yet kept, where the car has none.

    Raises
    ------
    InputError
        If the car has no option for such a piece.
    """
    if not car.options.filter(subject=subject).exists():
        raise InputError(field="subject", got=subject, allowed="a piece that has options")
    row: Subject | None = car.subjects.filter(subject=subject).first()
    if row is not None:
        return row
    last = car.subjects.aggregate(last=Max("position"))["last"]
    return Subject(car=car, subject=subject, position=0 if last is None else last + 1)


def keep_row(row: Subject, *, columns: Sequence[str] = ()) -> None:
    """Write the row; the table's head gains the columns that it lacks."""
    row.save()
    head = row.car.heads.get("subjects", [])
    wider = list(dict.fromkeys([*(head or _HEAD), *columns]))
    if wider != head:
        row.car.heads = {**row.car.heads, "subjects": wider}
        row.car.save(update_fields=["heads"])
