"""Laws: a true history never contradicts, and its distance is always among those told."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from asfound.weigh.odometer import KM_IN, OdometerReading, read_odometer

_LAW = settings(max_examples=60, deadline=None)
_STEPS = st.lists(st.integers(0, 60_000), min_size=1, max_size=7)


def shown(day: int, figure: float, **more: object) -> OdometerReading:
    return OdometerReading(
        **{  # type: ignore[arg-type]
            "name": f"day {day}",
            "first_day": day,
            "last_day": day,
            "shown": figure,
            "unit": "mile",
            "digits": 5,
            **more,
        }
    )


@_LAW
@given(steps=_STEPS)
def test_the_truth_is_told_where_the_dial_turned_over_at_most_once(steps: list[int]) -> None:
    true = [sum(steps[: n + 1]) for n in range(len(steps))]
    seen = sum(b % 100_000 < a % 100_000 for a, b in pairwise(true))
    assume(true[0] < 100_000 and seen == true[-1] // 100_000 <= 1)
    result = read_odometer([shown(365 * n, m % 100_000) for n, m in enumerate(true)])
    assert bool(result.clashes) == bool(seen)
    told = [story.at_least_km for story in result.stories if story.at_most_km is not None]
    assert any(abs(km - true[-1] * KM_IN["mile"]) < 1e-6 for km in told)


@_LAW
@given(figures=st.lists(st.integers(0, 99_999), min_size=1, max_size=7))
def test_clashes_and_doubts_as_brute_force_finds_them(figures: list[int]) -> None:
    result = read_odometer([shown(365 * n, f, digits=None) for n, f in enumerate(figures)])
    pairs = {(i, j) for i, j in combinations(range(len(figures)), 2) if figures[j] < figures[i]}
    assert bool(result.clashes) == bool(pairs)
    for clash in result.clashes:
        i, j = (int(r.name.removeprefix("day ")) // 365 for r in clash.readings)
        assert (i, j) in pairs
    sizes = [
        size
        for size in range(4)
        for gone in combinations(range(len(figures)), size)
        if all(i in gone or j in gone for i, j in pairs)
    ]
    if pairs and sizes:
        assert {len(readings) for readings in result.to_doubt} == {min(sizes)}


@_LAW
@given(figures=st.lists(st.integers(0, 60_000), min_size=1, max_size=6))
def test_stories_need_no_more_changes_than_readings_to_doubt(figures: list[int]) -> None:
    """To set aside the readings to doubt is one of the stories, so none with more is told."""
    result = read_odometer([shown(365 * n, f) for n, f in enumerate(figures)])
    if result.to_doubt:
        assert len(result.stories[0].changes) <= len(result.to_doubt[0])


@_LAW
@given(figures=st.lists(st.integers(0, 60_000), min_size=1, max_size=6), first=st.randoms())
def test_the_order_of_rows_does_not_matter(figures: list[int], first: object) -> None:
    readings = [shown(365 * n, f) for n, f in enumerate(figures)]
    mixed = list(readings)
    first.shuffle(mixed)  # type: ignore[attr-defined]
    assert read_odometer(mixed) == read_odometer(readings)
