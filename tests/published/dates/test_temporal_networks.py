"""Windows and clashes against the example of the paper that introduced temporal networks."""

from __future__ import annotations

import pytest

from asfound.weigh.dates import Event, History, Link, Step, read_history

SOURCE = "Dechter, Meiri and Pearl, Artificial Intelligence 49 (1991), 61-95, John and Fred"
CAR, BUS = (30, 40), (60, None)
CARPOOL, OWN_CAR = (40, 50), (20, 30)

Pair = tuple[int, int | None]


def morning(john: Pair, fred: Pair, *, seen_from: str = "0") -> History:
    """Minutes of the example as days; ``seen_from`` is held at 0, the others are open."""
    said = (
        ("leaves", "0", "1", 10, 20),
        ("john drives", "1", "2", *john),
        ("arrivals", "3", "2", 10, 20),
        ("fred drives", "3", "4", *fred),
        ("fred arrives", "0", "4", 60, 70),
    )
    return History(
        events=tuple(
            Event(event=name, first=0, last=0) if name == seen_from else Event(event=name)
            for name in "01234"
        ),
        links=tuple(
            Link(
                link=name,
                start=start,
                end=end,
                least=Step(days=least),
                most=None if most is None else Step(days=most),
            )
            for name, start, end, least, most in said
        ),
    )


def windows(history: History) -> list[tuple[int | None, int | None]]:
    return [(dated.first, dated.last) for dated in read_history(history).events]


@pytest.mark.source(SOURCE)
@pytest.mark.parametrize(
    ("john", "fred", "minimal"),
    [
        (CAR, CARPOOL, [(0, 0), (10, 20), (40, 50), (20, 30), (60, 70)]),
        (CAR, OWN_CAR, [(0, 0), (10, 20), (40, 60), (30, 50), (60, 70)]),
        (BUS, OWN_CAR, [(0, 0), (10, 10), (70, 70), (50, 50), (70, 70)]),
    ],
)
def test_minimal_windows_of_the_branches(
    john: Pair, fred: Pair, minimal: list[tuple[int, int]]
) -> None:
    assert windows(morning(john, fred)) == minimal


@pytest.mark.source(SOURCE)
@pytest.mark.from_memory
def test_d_graph_row_by_row() -> None:
    """Distance from i to j is the last day of j when i is held at 0."""
    rows = (
        (0, 20, 50, 30, 70),
        (-10, 0, 40, 20, 60),
        (-40, -30, 0, -10, 30),
        (-20, -10, 20, 0, 50),
        (-60, -50, -20, -40, 0),
    )
    for row, held in zip(rows, "01234", strict=True):
        found = windows(morning(CAR, CARPOOL, seen_from=held))
        assert tuple(last for _, last in found) == row
        columns = tuple(rows[i][int(held)] for i in range(5))
        assert tuple(-(first or 0) for first, _ in found) == columns


@pytest.mark.source(SOURCE)
def test_the_branch_that_cannot_be_names_its_circle() -> None:
    """Bus and carpool: the circle 1-0-4-3-2-1 comes to -20, and every link is part of it."""
    reading = read_history(morning(BUS, CARPOOL))
    assert not reading.consistent
    (clash,) = reading.clashes
    assert clash.events == ()
    assert clash.links == ("arrivals", "fred arrives", "fred drives", "john drives", "leaves")
    assert all(dated.first is None and not dated.holds for dated in reading.events)
