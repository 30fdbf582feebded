"""Pieces on which work has begun or is finished: what was started is fixed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from asfound.record.convert.worked import Stretch, stretch_of
from asfound.record.folder import CarFolder

OFF, ON = "off", "on"
"""How tasks end in which a piece only comes off the car for another's sake, and goes on again."""
_LATEST = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """Why a piece cannot be decided otherwise: work on it has begun, or is finished.

    Parameters
    ----------
    subject : str
    day : str
        ISO day (UTC) of the first beginning, or EDTF date of the end; empty where it cannot be
        read.
    by : str
        Who began it, or who looked at it when it was finished.
    task : str
        The task that was begun first; empty for a piece that is finished.
    is_finished : bool
    """

    subject: str
    day: str
    by: str
    task: str = ""
    is_finished: bool = False

    @property
    def words(self) -> str:
        """Why it is held, in words.

        Examples
        --------
        >>> Begun(subject="seats", day="2026-11-25", by="Issy Corrand", task="S1").words
        'work began on 2026-11-25, by Issy Corrand'
        """
        when = f" on {self.day}" if self.day else ""
        by = f", by {self.by}" if self.by else ""
        return f"work {'was finished' if self.is_finished else 'began'}{when}{by}"


def begun_pieces(car: CarFolder) -> dict[str, Begun]:
    """Pieces on which somebody has worked or that are finished, by name.

    A piece that was only taken off the car, or put on again, was not begun: its own treatment
    can still be any.
    """
    found: dict[str, Begun] = {}
    stretches = [(row.text("subject"), stretch_of(row.cells)) for row in car.sheet("worked")]
    for subject, one in sorted(stretches, key=lambda told: told[1].begun or _LATEST):
        if subject and not is_handling(one.task, subject):
            found.setdefault(subject, _began(subject, one))
    return found | {one.subject: one for one in _finished(car)}


def is_handling(task: str, subject: str) -> bool:
    """Whether a task takes the piece off the car or puts it on again, as made tasks are called.

    Examples
    --------
    >>> is_handling("bonnet: off", "bonnet"), is_handling("bonnet: repair", "bonnet")
    (True, False)
    """
    return task in (handling_task(subject, OFF), handling_task(subject, ON))


def handling_task(subject: str, word: str) -> str:
    """Name of the task that takes a piece off or puts it on."""
    return f"{subject}: {word}"


def _began(subject: str, one: Stretch) -> Begun:
    day = one.begun.astimezone(UTC).date().isoformat() if one.begun else ""
    return Begun(subject=subject, day=day, by=one.person, task=one.task)


def _finished(car: CarFolder) -> Iterator[Begun]:
    for row in car.sheet("as_left"):
        yield Begun(
            subject=row.text("subject"),
            day=row.text("done_on"),
            by=row.text("by"),
            is_finished=True,
        )
