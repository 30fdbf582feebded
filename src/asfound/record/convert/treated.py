"""The treatment record of each piece: decided, done, by whom, when, with what, to which result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime

from asfound.record.convert.cards import WHOLE_CAR
from asfound.record.convert.work_words import material_words, result_words
from asfound.record.convert.worked import Stretch, stretch_of
from asfound.record.folder import CarFolder

TABLES = ("worked", "materials_used", "results")
_NO_MORE = datetime(1, 1, 1, tzinfo=UTC)
"""A stretch that goes on adds no hours: the record tells what was done, whenever it is read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Treated:
    """What was done to one piece.

    Parameters
    ----------
    subject : str
    treatment, option : str
        What was signed; empty where nothing was.
    tasks : tuple of str
        Their names, those done first met first.
    people : tuple of str
    first, last : date or None
        Days (UTC) of the first beginning and the last end.
    hours : float
        Of all people together, in stretches that have ended.
    goes_on : bool
        Whether a task that was begun is not done.
    materials, results : tuple of str
        In words.
    unpictured : tuple of str
        Why there is no photograph where the treatment asked for one.
    before_n, after_n : int
        Photographs of the piece.
    """

    subject: str
    treatment: str
    option: str
    tasks: tuple[str, ...]
    people: tuple[str, ...]
    first: date | None
    last: date | None
    hours: float
    goes_on: bool
    materials: tuple[str, ...]
    results: tuple[str, ...]
    unpictured: tuple[str, ...]
    before_n: int
    after_n: int


def treated(car: CarFolder) -> Iterator[Treated]:
    """Pieces on which anything was done, in the order met."""
    subjects = dict.fromkeys(row.text("subject") for name in TABLES for row in car.sheet(name))
    locks = {row.text("subject"): row.text("locked_option") for row in car.sheet("subjects")}
    signed = {
        row.text("subject"): (row.text("treatment"), row.text("option"))
        for row in car.sheet("options")
        if row.text("option") and locks.get(row.text("subject")) == row.text("option")
    }
    names = {row.text("task"): row.text("name") for row in car.sheet("tasks")}
    for subject in subjects:
        yield _treated(car, subject or WHOLE_CAR, signed.get(subject, ("", "")), names)


def _treated(
    car: CarFolder, subject: str, signed: tuple[str, str], names: dict[str, str]
) -> Treated:
    rows = {
        name: [row.cells for row in car.sheet(name) if row.text("subject") == subject]
        for name in TABLES
    }
    stretches = [stretch_of(cells) for cells in rows["worked"]]
    tasks = dict.fromkeys(one.task for one in stretches)
    stages = [row.text("stage") for row in car.sheet("photos") if row.text("subject") == subject]
    return Treated(
        subject=subject,
        treatment=signed[0],
        option=signed[1],
        tasks=tuple(names.get(task) or task for task in tasks),
        people=tuple(dict.fromkeys(one.person for one in stretches)),
        first=min((one.begun.date() for one in stretches if one.begun), default=None),
        last=max((one.ended.date() for one in stretches if one.ended), default=None),
        hours=sum(one.hours(_NO_MORE) for one in stretches),
        goes_on=bool(set(tasks) - _done(stretches)),
        materials=tuple(material_words(cells) for cells in rows["materials_used"]),
        results=tuple(result_words(cells) for cells in rows["results"]),
        unpictured=tuple(
            dict.fromkeys(cells["no_photo"] for cells in rows["worked"] if cells.get("no_photo"))
        ),
        before_n=stages.count("before"),
        after_n=stages.count("after"),
    )


def _done(stretches: list[Stretch]) -> set[str]:
    return {one.task for one in stretches if one.done}
