"""Rows of identifiers become marks to be judged; rows of classes, preservation classes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from asfound.base import InputError
from asfound.record.convert.day_window import day_window
from asfound.record.convert.standing import counts
from asfound.record.convert.years import built_years
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.weigh.evidence import same_words
from asfound.weigh.numbers import JudgedMark, PreservationClass, Reading, StageDate, judge

CLASSES_FILE = "preservation_classes.csv"
NOT_THERE = ("not found", "none")
"""What stands as text of a mark that was looked for and is not there."""
_STAGES = (("casting", "cast_on"), ("machining", "machined_on"), ("assembly", "assembled_on"))
_RECORD_WORDS = (
    ("factory build record", ("build sheet", "build record", "build card", "production record")),
    ("other mark on the car", ("mark on", "marks on")),
    ("maker's record", ("maker", "works", "factory", "archive")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarMark:
    """A judged mark with the row that it was read from and the part that it is on.

    ``part`` is empty where nobody named one and no part is called as the kind.
    """

    judged: JudgedMark
    row: Row
    part: str


def marks_of(car: CarFolder) -> tuple[CarMark, ...]:
    """Marks of the car that nobody doubts, judged, in the order of the table."""
    rows = [row for row in car.sheet("identifiers") if counts(row)]
    readings = [_reading(row, car) for row in rows]
    parts = {same_words(row.text("part")): row.text("part") for row in car.sheet("parts")}
    first_year, last_year = built_years(_built(car))
    marks = []
    for row, reading in zip(rows, readings, strict=True):
        others = tuple(
            other for other in readings if other is not reading and _name(other) == _name(reading)
        )
        judged = judge(
            reading,
            others=others,
            first_year=first_year,
            last_year=last_year,
            made_for=row.text("made_for"),
        )
        part = row.text("part") or parts.get(same_words(reading.kind), "")
        marks.append(CarMark(judged=judged, row=row, part=part))
    return tuple(marks)


def record_of(row: Row) -> str:
    """What the source of the expected number is: as a person said, or as its name tells.

    Examples
    --------
    >>> record_of(Row({"expected_source": "works build sheet"}, 2))
    'factory build record'
    """
    if row.text("record"):
        return row.text("record")
    source = row.text("expected_source").casefold()
    named = (kind for kind, words in _RECORD_WORDS if any(word in source for word in words))
    return next(named, "")


def classes_of(car: CarFolder) -> tuple[PreservationClass, ...]:
    """Preservation classes from identity documents, each with the edition of its code.

    Raises
    ------
    InputFaultsError
        If a class is not one of its code.
    """
    rows = list(car.sheet("preservation_classes"))
    faults = tuple(class_faults(rows))
    if faults:
        raise InputFaultsError(faults)
    return tuple(_class(row) for row in rows)


def class_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    """Classes that their code does not have; what is empty is told where a table is read."""
    for row in rows:
        if not all(row.text(column) for column in ("code", "class", "edition")):
            continue
        try:
            _class(row)
        except InputError as error:
            if error.field != "code":
                yield Fault(
                    file=CLASSES_FILE,
                    row=row.number_in_file,
                    column=error.field,
                    value=row.text(error.field),
                    rule=f"it must be {error.allowed} of the code {row.text('code')!r}",
                    remedy="Write the class as the document gives it.",
                )


def _class(row: Row) -> PreservationClass:
    return PreservationClass(
        code=row.text("code"),
        given=row.text("class").upper(),
        edition=row.text("edition"),
        document=row.text("document"),
    )


def _reading(row: Row, car: CarFolder) -> Reading:
    text = row.text("text_as_read")
    return Reading(
        kind=row.text("kind"),
        where=row.text("where"),
        text="" if same_words(text) in NOT_THERE else text,
        expected=row.text("expected"),
        source=row.text("expected_source"),
        record=record_of(row),
        dates=tuple(_dates(row, car)),
    )


def _dates(row: Row, car: CarFolder) -> Iterator[StageDate]:
    told = [(stage, row.text(column)) for stage, column in _STAGES]
    for stage, text in (*told, ("build", _built(car))):
        if text:
            first, last = day_window(text)
            yield StageDate(stage=stage, text=text, first_day=first, last_day=last)


def _built(car: CarFolder) -> str:
    return next((row.text("built") for row in car.sheet("car")), "")


def _name(reading: Reading) -> tuple[str, str]:
    return same_words(reading.kind), same_words(reading.where)
