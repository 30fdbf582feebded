"""Pieces whose work is finished, and which of them nobody has looked at afterwards."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from asfound.record.convert.begun import is_handling
from asfound.record.convert.past import finished
from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """A piece on which all work is done.

    Parameters
    ----------
    subject : str
    ended : date or None
        Day in UTC of its last stretch of work, where that can be read.
    decided : float or None
        Share of its fabric that the option it is locked to keeps; none where it is not locked.
    """

    subject: str
    ended: date | None
    decided: float | None


def not_looked_at(car: CarFolder) -> tuple[Finished, ...]:
    """Finished pieces without a row in ``as_left``, the last finished first.

    Taking a piece off and putting it on again is no work on it.
    """
    locked = {row.text("subject"): row.text("locked_option") for row in car.sheet("subjects")}
    keeps = {
        (row.text("subject"), row.text("option")): row.number("kept")
        for row in car.sheet("options")
    }
    written = {row.text("subject") for row in car.sheet("as_left")}
    tasks: dict[str, list[str]] = {}
    for row in car.sheet("tasks"):
        task, subject = row.text("task"), row.text("subject")
        if subject in locked and subject not in written and not is_handling(task, subject):
            tasks.setdefault(subject, []).append(task)
    done = finished(car)
    found = (
        Finished(
            subject=subject,
            ended=max((at.date() for name in names if (at := done[name].ended)), default=None),
            decided=keeps.get((subject, locked[subject])),
        )
        for subject, names in tasks.items()
        if all(name in done for name in names)
    )
    return tuple(sorted(found, key=lambda one: one.ended or date.min, reverse=True))
