"""The part of a history that days can be shared out over: windows that are closed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from asfound.weigh.dates.history import Link
from asfound.weigh.dates.tight import Windows


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """Events with a tightest window closed on both sides, joined by links that still tell.

    Parameters
    ----------
    events : tuple of str
    firsts, lasts : tuple of int
        Tightest windows, a day each an event.
    links : tuple of Link
        Between these events, without those that the windows already imply.
    """

    events: tuple[str, ...]
    firsts: tuple[int, ...]
    lasts: tuple[int, ...]
    links: tuple[Link, ...]

    @property
    def widths(self) -> tuple[int, ...]:
        """Days in each window."""
        return tuple(b - a + 1 for a, b in zip(self.firsts, self.lasts, strict=True))

    @property
    def is_tree(self) -> bool:
        """Whether the links, seen as pairs, run in no circle; each component is joined up."""
        pairs = {frozenset((link.start, link.end)) for link in self.links}
        return len(pairs) == len(self.events) - 1


def closed_parts(windows: Windows, links: Sequence[Link]) -> Iterator[Closed]:
    """Components of the events whose window is closed, in the order of the windows.

    Notes
    -----
    An event that is open on a side puts no bound on its neighbours there, and its own days are
    without number whatever theirs are; so it is left out.
    """
    closed = [name for name in windows.firsts if name in windows.lasts]
    telling = [link for link in links if _tells(link, windows)]
    for names, of_them in joined(closed, telling):
        yield Closed(
            events=names,
            firsts=tuple(windows.firsts[n] for n in names),
            lasts=tuple(windows.lasts[n] for n in names),
            links=of_them,
        )


def joined(
    events: Sequence[str], links: Sequence[Link]
) -> Iterator[tuple[tuple[str, ...], tuple[Link, ...]]]:
    """Events that links join, directly or through others, and those links; in their order."""
    root_of = _roots(events, links)
    names: dict[str, list[str]] = {}
    ties: dict[str, list[Link]] = {}
    for name in events:
        names.setdefault(root_of[name], []).append(name)
    for link in links:
        ties.setdefault(root_of[link.start], []).append(link)
    for root, members in names.items():
        yield tuple(members), tuple(ties.get(root, ()))


def _tells(link: Link, windows: Windows) -> bool:
    """Whether the link asks more of two closed events than their windows do."""
    for name in (link.start, link.end):
        if name not in windows.firsts or name not in windows.lasts:
            return False
    least_tells = link.least is not None and (
        link.least.ahead(windows.lasts[link.start]) > windows.firsts[link.end]
    )
    most_tells = link.most is not None and (
        link.most.ahead(windows.firsts[link.start]) < windows.lasts[link.end]
    )
    return least_tells or most_tells


def _roots(events: Sequence[str], links: Sequence[Link]) -> dict[str, str]:
    """First event of the component that each event belongs to."""
    near: dict[str, list[str]] = {name: [] for name in events}
    for link in links:
        near[link.start].append(link.end)
        near[link.end].append(link.start)
    root_of: dict[str, str] = {}
    for root in events:
        waiting = [] if root in root_of else [root]
        while waiting:
            name = waiting.pop()
            if name not in root_of:
                root_of[name] = root
                waiting.extend(near[name])
    return root_of
