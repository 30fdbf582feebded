"""Days, steps, refusals, open windows, months that break, draws, limits of the search."""

from __future__ import annotations

import datetime
import itertools

import numpy as np
import pytest

from asfound.base import InputError
from asfound.weigh.dates import (
    Event,
    History,
    Link,
    Step,
    add_months,
    at_least,
    at_most,
    day_number,
    iso_day,
    read_history,
)
from asfound.weigh.dates.count import count_all
from asfound.weigh.dates.draw import draw
from asfound.weigh.dates.finite import Closed, closed_parts
from asfound.weigh.dates.order import order_of
from asfound.weigh.dates.tight import Windows, tightest
from asfound.weigh.dates.tree import count_tree, days_at

LEVELS = (0.05, 0.5, 0.95)


def day(text: str) -> int:
    year, month, of_month = map(int, text.split("-"))
    return day_number(year=year, month=month, day=of_month)


def test_days_are_those_of_the_standard_library() -> None:
    epoch = datetime.date(1970, 1, 1)
    for ahead in range(-200_000, 60_000, 37):
        there = epoch + datetime.timedelta(days=ahead)
        assert day_number(year=there.year, month=there.month, day=there.day) == ahead
        assert iso_day(ahead) == there.isoformat()


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        ("1957-01-31", 1, "1957-02-28"),
        ("1956-01-31", 1, "1956-02-29"),
        ("1956-02-29", 12, "1957-02-28"),
        ("1957-03-31", -1, "1957-02-28"),
        ("1957-09-14", 0, "1957-09-14"),
        ("1900-02-28", 1200, "2000-02-28"),
    ],
)
def test_months_are_cut_to_the_month_arrived_in(start: str, months: int, end: str) -> None:
    assert iso_day(add_months(day(start), months=months)) == end
    assert add_months(np.array([day(start)]), months=months).tolist() == [day(end)]


def test_amounts_become_steps_that_claim_no_more_than_was_said() -> None:
    assert at_least(2, unit="year") == Step(months=24)
    assert at_least(0.5, unit="month") == Step(days=15)
    assert at_most(0.5, unit="month") == Step(days=16)
    assert at_most(2.5, unit="day") == Step(days=2)
    assert at_least(1 / 12, unit="year") == Step(months=1)
    assert at_least(-1.25, unit="month") == Step(months=-2, days=22)
    for amount in (float("nan"), float("inf"), 2e5):
        with pytest.raises(InputError, match="100,000 years"):
            at_least(amount, unit="year")


def test_what_no_history_can_be_read_from_is_refused() -> None:
    with pytest.raises(InputError, match="on or before its last day"):
        Event(event="a", first=2, last=1)
    with pytest.raises(InputError, match="another event than its start"):
        Link(link="k", start="a", end="a", least=Step())
    with pytest.raises(InputError, match="greatest distance"):
        Link(link="k", start="a", end="b", least=Step(days=2), most=Step(days=1))
    with pytest.raises(InputError, match="named once"):
        History(events=(Event(event="a"), Event(event="a")))
    with pytest.raises(InputError, match="one of the events"):
        History(events=(Event(event="a"),), links=(Link(link="k", start="a", end="b"),))


def test_open_ends_stay_open_and_have_no_shares() -> None:
    history = History(
        events=(Event(event="made", first=day("1957-01-01")), Event(event="fitted")),
        links=(Link(link="k", start="made", end="fitted", least=Step(months=1)),),
    )
    made, fitted = read_history(history).events
    assert (made.last, fitted.last) == (None, None)
    assert fitted.first == day("1957-02-01")
    assert fitted.likely is None


def test_what_is_open_puts_no_bound_on_its_neighbours() -> None:
    """A closed event before an open one keeps the even shares of its own window."""
    history = History(
        events=(Event(event="a", first=0, last=99), Event(event="b")),
        links=(Link(link="k", start="a", end="b", least=Step()),),
    )
    a, b = read_history(history).events
    assert a.likely is not None
    assert (a.likely.p05, a.likely.p50, a.likely.p95) == (4, 49, 94)
    assert (b.first, b.last, b.likely) == (0, None, None)


def circle(events: tuple[str, ...], step: Step, back: Step) -> History:
    """Each event the step after the one before it, and the first ``back`` after the last."""
    links = [
        Link(link=f"{a}{b}", start=a, end=b, least=step) for a, b in itertools.pairwise(events)
    ]
    links.append(Link(link="back", start=events[-1], end=events[0], least=back))
    return History(events=tuple(Event(event=e) for e in events), links=tuple(links))


def test_a_circle_of_open_events_is_found() -> None:
    (clash,) = read_history(circle(("a", "b", "c"), Step(days=1), Step(days=-1))).clashes
    assert (clash.links, clash.events) == (("ab", "back", "bc"), ())


def test_a_month_after_and_thirty_days_before_leaves_the_shorter_months() -> None:
    """b is a month after a, and a at least b less 30 days: only months of 30 days or fewer."""
    history = circle(("a", "b"), Step(months=1), Step(days=-30))
    assert read_history(history).consistent
    january = History(
        events=(Event(event="a", first=day("1957-01-03")), Event(event="b")), links=history.links
    )
    a, b = read_history(january).events
    # From 3 to 28 January a month is 31 days; the 29th leads to 28 February, 30 days on.
    assert (a.first, b.first) == (day("1957-01-29"), day("1957-02-28"))
    walled = History(
        events=(
            Event(event="a", first=day("1957-01-03"), last=day("1957-01-28")),
            Event(event="b"),
        ),
        links=history.links,
    )
    (clash,) = read_history(walled).clashes
    assert (clash.links, clash.events) == (("ab", "back"), ("a",))


def test_a_month_after_and_twenty_seven_days_before_never_rests() -> None:
    (clash,) = read_history(circle(("a", "b"), Step(months=1), Step(days=-27))).clashes
    assert clash.names == ("ab", "back")


def test_a_year_after_and_a_year_of_days_before_waits_for_no_leap_day() -> None:
    history = circle(("a", "b"), Step(months=12), Step(days=-365))
    told = History(
        events=(Event(event="a", first=day("1955-06-01")), Event(event="b")), links=history.links
    )
    # 1 June 1955 to 1 June 1956 holds a leap day; a year from 29 February 1956 does not.
    assert read_history(told).events[0].first == day("1956-02-29")


def test_a_clash_leaves_other_events_alone() -> None:
    history = History(
        events=(
            Event(event="a", first=10),
            Event(event="b", last=5),
            Event(event="c", first=1, last=3),
        ),
        links=(Link(link="k", start="a", end="b", least=Step()),),
    )
    reading = read_history(history)
    assert [c.names for c in reading.clashes] == [("a", "b", "k")]
    a, _, c = reading.events
    assert (a.holds, a.first, a.said_first) == (False, None, 10)
    assert (c.holds, c.first, c.last) == (True, 1, 3)


def test_a_search_without_end_says_that_there_may_be_more() -> None:
    """Twelve forks of twelve: far more ways round than the search takes."""
    names = [f"s{i}" for i in range(13)]
    links = [
        Link(link=f"k{i:02d}{j:02d}", start=names[i], end=names[i + 1], least=Step(days=1))
        for i in range(12)
        for j in range(12)
    ]
    links.append(Link(link="back", start=names[-1], end=names[0], least=Step()))
    reading = read_history(History(events=tuple(Event(event=n) for n in names), links=tuple(links)))
    assert not reading.all_clashes_found
    assert len(reading.clashes) > 1
    assert all(len(clash.names) == 13 for clash in reading.clashes)


def loop(wide: int) -> Closed:
    """Three events in a row, the first and the last within half the window."""
    events = tuple(Event(event=name, first=0, last=wide) for name in "abc")
    links = (
        Link(link="ab", start="a", end="b", least=Step(days=5)),
        Link(link="bc", start="b", end="c", least=Step(months=1), most=Step(months=3)),
        Link(link="ac", start="a", end="c", most=Step(days=wide // 2)),
    )
    windows = tightest(events, links)
    assert isinstance(windows, Windows)
    (part,) = closed_parts(windows, links)
    assert not part.is_tree
    return part


def test_draws_agree_with_the_count_within_their_own_error() -> None:
    part = loop(150)
    counted = [
        days_at(s, first, levels=LEVELS)
        for s, first in zip(count_all(part), part.firsts, strict=True)
    ]
    drawn = draw(part, levels=LEVELS, rng=np.random.default_rng(3))
    assert drawn.draws_n == 20_000
    for exact, days, u in zip(counted, drawn.days, drawn.u_days, strict=True):
        for of_all, of_draws, error in zip(exact, days, u, strict=True):
            assert abs(of_all - of_draws) <= 4 * error + 1


def test_the_same_seed_draws_the_same_days() -> None:
    part = loop(400)
    one, other, third = (
        draw(part, levels=LEVELS, rng=np.random.default_rng(seed)) for seed in (1, 1, 2)
    )
    assert one == other
    assert one != third


def test_events_held_together_are_drawn_over_their_whole_window() -> None:
    """Two events always three days apart could move only together."""
    part = Closed(
        events=("a", "b", "c"),
        firsts=(0, 3, 0),
        lasts=(996, 999, 999),
        links=(
            Link(link="ab", start="a", end="b", least=Step(days=3), most=Step(days=3)),
            Link(link="bc", start="b", end="c", least=Step(days=-999)),
            Link(link="ac", start="a", end="c", least=Step(days=-999)),
        ),
    )
    a, b, _ = draw(part, levels=LEVELS, rng=np.random.default_rng(5)).days
    assert [y - x for x, y in zip(a, b, strict=True)] == [3, 3, 3]
    assert a == pytest.approx((49, 498, 947), abs=15)


def test_a_tree_is_counted_as_by_looking_at_all() -> None:
    part = Closed(
        events=("a", "b", "c", "d"),
        firsts=(0, 3, 5, 2),
        lasts=(20, 21, 22, 19),
        links=(
            Link(link="ab", start="a", end="b", least=Step(days=2), most=Step(days=9)),
            Link(link="cb", start="c", end="b", least=Step(days=-3)),
            Link(link="bd", start="b", end="d", most=Step(days=1)),
        ),
    )
    for one, other in zip(count_tree(part), count_all(part), strict=True):
        assert np.allclose(one, other, atol=1e-12)


def test_order_joins_circles_and_drops_what_follows() -> None:
    def over(link: str, start: str, end: str) -> Link:
        return Link(link=link, start=start, end=end, least=Step())

    order = order_of(
        (
            over("1", "metal", "primer"),
            over("2", "primer", "coat"),
            over("3", "metal", "coat"),
            over("4", "coat", "polish"),
            over("5", "polish", "coat"),
            Link(link="6", start="wax", end="coat", most=Step(days=-1)),
            Link(link="7", start="metal", end="guess", least=Step(days=-9), most=Step(days=9)),
        )
    )
    assert order.groups == (("metal",), ("primer",), ("coat", "polish"), ("wax",))
    assert order.over == ((1, 0), (2, 1), (3, 2))
    assert order.level == (0, 1, 2, 3)
    assert order_of(()).groups == ()


def test_clashes_that_share_nothing_are_all_found() -> None:
    """Five pairs of windows, each in the wrong order, hung on one event."""
    events, links = [Event(event="found", first=9000, last=9000)], list[Link]()
    for pair in range(5):
        early, late = f"early {pair}", f"late {pair}"
        events += [Event(event=early, first=100 + pair), Event(event=late, last=50)]
        links.append(Link(link=f"k{pair}", start=early, end=late, least=Step(days=1)))
        links.append(Link(link=f"f{pair}", start=late, end="found", least=Step()))
    reading = read_history(History(events=tuple(events), links=tuple(links)))
    assert reading.all_clashes_found
    assert [clash.names for clash in reading.clashes] == [
        (f"early {pair}", f"k{pair}", f"late {pair}") for pair in range(5)
    ]


def test_a_window_of_geological_width_has_bounds_and_no_likely_day() -> None:
    history = History(
        events=(Event(event="a", first=-60_000_000_000, last=0), Event(event="b", first=0, last=9)),
        links=(Link(link="k", start="a", end="b", least=Step(months=1)),),
    )
    a, b = read_history(history).events
    assert (a.last, b.last, a.likely) == (-22, 9, None)
