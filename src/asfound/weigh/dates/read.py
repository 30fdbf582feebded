"""A history read: whether it holds together, when each thing happened, and what clashes."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.weigh.dates.bounds import Broken
from asfound.weigh.dates.clash import Clash, Clashes, clashes_of
from asfound.weigh.dates.finite import Closed, closed_parts, joined
from asfound.weigh.dates.history import History
from asfound.weigh.dates.order import Order, order_of
from asfound.weigh.dates.posterior import Likely, likely_days
from asfound.weigh.dates.tight import Windows, tightest


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated:
    """When an event happened.

    Parameters
    ----------
    event : str
    said_first, said_last : int or None
        Its window as it was stated, day numbers; ``None`` is open.
    holds : bool
        Whether the event is free of clashes, its own and those of the events that links join
        it with; otherwise no consistent history exists and the rest is ``None``.
    first, last : int or None
        First and last day that any consistent history allows; ``None`` is open.
    likely : Likely or None
        ``None`` where the window is open on a side.
    """

    event: str
    said_first: int | None
    said_last: int | None
    holds: bool
    first: int | None = None
    last: int | None = None
    likely: Likely | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryReading:
    """A history read.

    Parameters
    ----------
    events : tuple of Dated
        In the order of the history.
    clashes : tuple of Clash
        Every smallest set of statements that cannot all hold, the smallest first.
    all_clashes_found : bool
        False where the search for further clashes was ended by its limits.
    order : Order
        Later above earlier.
    seed : int
        Of the draws, where some were needed.
    """

    events: tuple[Dated, ...]
    clashes: tuple[Clash, ...]
    all_clashes_found: bool
    order: Order
    seed: int

    @property
    def consistent(self) -> bool:
        """Whether all that is said can hold together."""
        return not self.clashes


def read_history(history: History, *, seed: int = 0) -> HistoryReading:
    """Tightest windows, likely days and clashes of a history.

    Parameters
    ----------
    history : History
    seed : int
        Of the draws; the same seed gives the same result.

    Notes
    -----
    Events that no link joins cannot clash with each other, so each component is read by itself:
    a clash takes the days only from its own.

    References
    ----------
    Dechter, Meiri and Pearl, Temporal constraint networks, Artificial Intelligence 49 (1991),
    61-95.

    Examples
    --------
    >>> from asfound.weigh.dates import Step, day_number, iso_day
    >>> sold = Event(event="pigment sold", first=day_number(year=1978))
    >>> coat = Event(event="coat laid", last=day_number(year=1980))
    >>> over = Link(link="k1", start="pigment sold", end="coat laid", least=Step())
    >>> reading = read_history(History(events=(sold, coat), links=(over,)))
    >>> [(iso_day(d.first), iso_day(d.last)) for d in reading.events]
    [('1978-01-01', '1980-01-01'), ('1978-01-01', '1980-01-01')]
    """
    events = {event.event: event for event in history.events}
    windows, clashes = Windows(firsts={}, lasts={}), list[Clashes]()
    broken_events, parts = set[str](), list[Closed]()
    for names, links in joined(list(events), history.links):
        members = [events[name] for name in names]
        found = tightest(members, links)
        if isinstance(found, Broken):
            clashes.append(clashes_of(members, links, first=found))
            broken_events.update(names)
        else:
            windows.firsts.update(found.firsts)
            windows.lasts.update(found.lasts)
            parts += closed_parts(found, links)
    likely = likely_days(parts, seed=seed)
    return HistoryReading(
        events=tuple(
            Dated(
                event=name,
                said_first=event.first,
                said_last=event.last,
                holds=name not in broken_events,
                first=windows.firsts.get(name),
                last=windows.lasts.get(name),
                likely=likely.get(name),
            )
            for name, event in events.items()
        ),
        clashes=tuple(
            sorted((c for of in clashes for c in of.clashes), key=lambda c: (len(c.names), c.names))
        ),
        all_clashes_found=all(of.all_found for of in clashes),
        order=order_of(history.links),
        seed=seed,
    )
