"""Days of two events in an order against the integrals that can be done by hand."""

from __future__ import annotations

import numpy as np
import pytest

from asfound.weigh.dates import Event, History, Link, Step, day_number, read_history
from asfound.weigh.dates.finite import closed_parts
from asfound.weigh.dates.tight import Windows, tightest
from asfound.weigh.dates.tree import Shares, count_tree


def two_events(a: tuple[int, int], b: tuple[int, int]) -> History:
    return History(
        events=(
            Event(event="A", first=a[0], last=a[1]),
            Event(event="B", first=b[0], last=b[1]),
        ),
        links=(Link(link="A before B", start="A", end="B", least=Step()),),
    )


def shares_of(history: History) -> tuple[tuple[Shares, int], ...]:
    windows = tightest(history.events, history.links)
    assert isinstance(windows, Windows)
    (part,) = closed_parts(windows, history.links)
    return tuple(zip(count_tree(part), part.firsts, strict=True))


@pytest.mark.source(
    "A uniform on 1960-1970, B uniform on 1965-1975: P(A before B) = 7/8, E[A] = 1960 + 95/21, "
    "E[B] = 1960 + 220/21, by integration over the rectangle less its corner"
)
def test_means_of_two_decades_that_overlap() -> None:
    sixty, seventy = day_number(year=1960), day_number(year=1970)
    middle, end = day_number(year=1965), day_number(year=1975)
    (a, a_first), (b, b_first) = shares_of(two_events((sixty, seventy - 1), (middle, end - 1)))

    def mean_year(shares: Shares, first: int) -> float:
        days = first + np.arange(len(shares)) + 0.5
        return 1960 + float(shares @ days - sixty) / (seventy - sixty) * 10

    # The grid of days moves a mean by less than a day; years are of uneven length.
    assert mean_year(a, a_first) == pytest.approx(1964.52, abs=0.005)
    assert mean_year(b, b_first) == pytest.approx(1970.48, abs=0.005)


@pytest.mark.source(
    "A uniform on 1960-1970, B uniform on 1965-1975: P(A before B) = 7/8, by integration"
)
def test_chance_of_the_order_from_the_share_of_the_years() -> None:
    """Given the order, P(A in the last five years) = (7/8 - 1/2) / (7/8) = 3/7."""
    sixty, middle = day_number(year=1960), day_number(year=1965)
    seventy, end = day_number(year=1970), day_number(year=1975)
    (a, _), _ = shares_of(two_events((sixty, seventy - 1), (middle, end - 1)))
    late = float(a[middle - sixty :].sum())
    assert 0.5 / (1 - late) == pytest.approx(7 / 8, abs=5e-4)


@pytest.mark.source("six pairs counted by hand: A in 60, 61, 62, B in 61, 62, 63, A before B")
def test_six_pairs_counted() -> None:
    history = History(
        events=(Event(event="A", first=60, last=62), Event(event="B", first=61, last=63)),
        links=(Link(link="k", start="A", end="B", least=Step(days=1)),),
    )
    (a, _), (b, _) = shares_of(history)
    assert a.tolist() == pytest.approx([1 / 2, 1 / 3, 1 / 6])
    assert b.tolist() == pytest.approx([1 / 6, 1 / 3, 1 / 2])
    dated, _ = read_history(history).events
    assert dated.likely is not None
    assert (dated.likely.p05, dated.likely.p50, dated.likely.p95) == (60, 60, 62)
