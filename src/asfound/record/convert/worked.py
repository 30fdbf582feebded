"""Rows of ``worked.csv`` become stretches of work, and hours by task."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from asfound.record.folder import CarFolder

_HOUR_S = 3600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Work of one person at one task without a break.

    ``begun`` is ``None`` where the row's time cannot be read; ``ended`` also while it goes on.
    """

    task: str
    person: str
    begun: datetime | None
    ended: datetime | None
    is_open: bool
    done: bool

    def hours(self, now: datetime) -> float:
        """Hours of the stretch, up to now where it goes on; none where its times are unreadable."""
        until = now if self.is_open else self.ended
        if self.begun is None or until is None:
            return 0.0
        return max((until - self.begun).total_seconds(), 0.0) / _HOUR_S


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskWork:
    """What was worked on one task.

    Parameters
    ----------
    hours : float
        Of all people together.
    people : tuple of str
    running : tuple of str
        People who are at it.
    done : bool
    unreadable_n : int
        Stretches whose times cannot be read, which count for nothing.
    ended : datetime or None
        End of the last stretch that has ended.
    """

    hours: float = 0.0
    people: tuple[str, ...] = ()
    running: tuple[str, ...] = ()
    done: bool = False
    unreadable_n: int = 0
    ended: datetime | None = None


def moment(text: str) -> datetime | None:
    """Time as the tables write it; without a zone it is UTC; ``None`` where it is none.

    Examples
    --------
    >>> moment("2026-11-25T08:30:00Z").isoformat(), moment("in the morning")
    ('2026-11-25T08:30:00+00:00', None)
    """
    try:
        read = datetime.fromisoformat(text.strip())
    except ValueError:
        return None
    return read if read.tzinfo else read.replace(tzinfo=UTC)


def written(at: datetime) -> str:
    """Time as the tables write it."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def stretch_of(cells: Mapping[str, str]) -> Stretch:
    """Stretch that a row tells."""
    ended = cells.get("to_at", "")
    return Stretch(
        task=cells.get("task", ""),
        person=cells.get("person", ""),
        begun=moment(cells.get("from_at", "")),
        ended=moment(ended),
        is_open=not ended,
        done=cells.get("done", "") == "yes",
    )


def work_by_task(car: CarFolder, now: datetime) -> dict[str, TaskWork]:
    """What was worked on each task that anybody has touched."""
    stretches: dict[str, list[Stretch]] = {}
    for row in car.sheet("worked"):
        one = stretch_of(row.cells)
        stretches.setdefault(one.task, []).append(one)
    return {task: work_of(several, now) for task, several in stretches.items()}


def work_of(stretches: Iterable[Stretch], now: datetime) -> TaskWork:
    """What the stretches of one task come to."""
    all_of = list(stretches)
    return TaskWork(
        hours=sum(one.hours(now) for one in all_of),
        people=tuple(dict.fromkeys(one.person for one in all_of)),
        running=tuple(dict.fromkeys(one.person for one in all_of if one.is_open)),
        done=any(one.done for one in all_of),
        unreadable_n=sum(
            one.begun is None or (one.ended is None and not one.is_open) for one in all_of
        ),
        ended=max((one.ended for one in all_of if one.ended), default=None),
    )
