"""When a person works: hours by weekday, and days away."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from asfound.base import InputError

DAY_MIN = 1440
DAY_BEGINS_MIN = 480
"""Work begins at 08:00: a convention of the plan, no source."""

Windows = npt.NDArray[np.int64]
"""Begin and end of each spell of work [min from the plan's first midnight], in order, apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingTime:
    """Spells of work, one a day at most.

    Parameters
    ----------
    minutes : tuple of int
        Work on each day of the week [min], Monday first, 0–1440 each.
    away : tuple of (int, int)
        First and last day of each absence, both away, counted from the plan's first day.
    begins_min : int
        When work begins [min after midnight]; earlier where the day would else pass midnight.
    """

    minutes: tuple[int, ...]
    away: tuple[tuple[int, int], ...] = ()
    begins_min: int = DAY_BEGINS_MIN

    def __post_init__(self) -> None:
        if len(self.minutes) != 7 or not all(0 <= m <= DAY_MIN for m in self.minutes):
            raise InputError(field="minutes", got=self.minutes, allowed="seven of 0 to 1440")
        for first, last in self.away:
            if last < first:
                raise InputError(field="away", got=(first, last), allowed="first day, last day")

    def windows(self, *, first_weekday: int, days: int) -> Windows:
        """Spells of work on the first ``days`` days, of which day 0 is ``first_weekday``.

        Parameters
        ----------
        first_weekday : int
            0 for Monday to 6 for Sunday.
        days : int
            Zero or more.

        Returns
        -------
        ndarray of int64, shape (n, 2)
        """
        day = np.arange(days, dtype=np.int64)
        length = np.array(self.minutes, dtype=np.int64)[(day + first_weekday) % 7]
        for first, last in self.away:
            length[(day >= first) & (day <= last)] = 0
        begin = day * DAY_MIN + np.minimum(self.begins_min, DAY_MIN - length)
        return np.column_stack((begin, begin + length))[length > 0]

    @classmethod
    def every_day(cls, hours: float, *, weekdays: int = 5) -> WorkingTime:
        """The same hours on the first ``weekdays`` days of every week.

        Examples
        --------
        >>> WorkingTime.every_day(7.5).minutes
        (450, 450, 450, 450, 450, 0, 0)
        """
        return cls(minutes=tuple(round(hours * 60) if d < weekdays else 0 for d in range(7)))
