"""Bars of a plan: each has its name, no name stands on another bar or name, nothing leaves the
drawing; whatever the days shown. Widths are those of the figure's own table of letters."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from datetime import date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.dossier.figures.bars import (
    SHOWN_DAYS,
    SIZE,
    ZOOMS,
    Bar,
    Item,
    Window,
    Zoom,
    lay_bars,
)
from asfound.dossier.figures.bars_drawn import Link, draw_bars
from asfound.dossier.figures.palette import PALETTES
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import render
from asfound.dossier.figures.work_scale import hours_of

MONDAY = datetime(2026, 11, 30)
SVG = "{http://www.w3.org/2000/svg}"


@st.composite
def works(draw: st.DrawFn) -> list[Item]:
    def item(place: int) -> Item:
        day, hour = draw(st.integers(0, 90)), draw(st.integers(8, 16))
        start = MONDAY + timedelta(days=day, hours=hour)
        end = start + timedelta(hours=draw(st.sampled_from((1, 2, 5, 30, 200))))
        name = draw(st.sampled_from(("Fit", "Paint the left front wing", "Mend " * 20)))
        row = draw(st.sampled_from(("Ana", "Bo")))
        rests = draw(st.sampled_from((None, end + timedelta(days=3))))
        told = {"key": place, "row": row, "name": name, "told": name}
        return Item(**told, start=start, end=end, rests_until=rests)

    return [item(place) for place in range(draw(st.integers(1, 25)))]


def extent(bar: Bar) -> tuple[float, float]:
    end = bar.words_at + width_of(bar.words, size=SIZE)
    return min(bar.left, bar.words_at), max(bar.right, end)


@settings(max_examples=60, deadline=None)
@given(works(), st.sampled_from(ZOOMS), st.integers(0, 60))
def test_every_bar_has_its_name_and_none_stands_on_another(
    items: list[Item], zoom: Zoom, day: int
) -> None:
    window = Window(zoom=zoom, first_day=MONDAY.date() + timedelta(days=day))
    layout = lay_bars(items, ["Ana", "Bo"], window=window)
    begins, ends = layout.scale.begins, layout.scale.ends
    shown = {i.key for i in items if i.start < ends and (i.rests_until or i.end) > begins}
    bars = [bar for row in layout.rows for bar in row.bars]
    assert {bar.item.key for bar in bars} == shown
    assert zoom != "whole" or len(shown) == len(items)
    for row in layout.rows:
        for bar in row.bars:
            assert bar.words
            assert row.top < bar.top < row.bottom
            assert 0 <= extent(bar)[0] <= extent(bar)[1] <= layout.scale.right + 1
        for top in {bar.top for bar in row.bars}:
            lane = sorted(extent(bar) for bar in row.bars if bar.top == top)
            assert all(one[1] < two[0] for one, two in pairwise(lane))


@pytest.mark.parametrize("zoom", ["weeks", "days"])
def test_a_step_on_shows_the_days_that_follow(zoom: Zoom) -> None:
    window = Window(zoom=zoom, first_day=date(2026, 12, 3))
    first, then = window.begins(()), window.moved(1).begins(())
    assert (then - first).days == SHOWN_DAYS[zoom]
    assert zoom != "weeks" or first.isoweekday() == 1


def test_a_day_is_as_wide_as_its_hours_and_nights_are_left_out() -> None:
    start, end = MONDAY + timedelta(hours=8), MONDAY + timedelta(days=1, hours=16)
    item = Item(key=1, row="Ana", name="Paint", told="", start=start, end=end)
    layout = lay_bars([item], ["Ana"], window=Window(zoom="days", first_day=MONDAY.date()))
    scale, (bar,) = layout.scale, layout.rows[0].bars
    assert (scale.opens_h, scale.closes_h) == (8, 16)
    assert bar.right - bar.left == pytest.approx(2 * scale.day_width)
    noon = scale.x(MONDAY + timedelta(hours=12))
    assert noon - scale.left == pytest.approx(scale.day_width / 2)
    assert scale.x(MONDAY + timedelta(hours=23)) == scale.x(MONDAY + timedelta(days=1, hours=3))
    assert hours_of([]) == (8, 17)


def test_links_are_drawn_of_the_chosen_alone_and_words_are_for_everybody() -> None:
    def item(key: str, day: int) -> Item:
        start = MONDAY + timedelta(days=day, hours=9)
        end = start + timedelta(hours=2)
        return Item(key=key, row="Ana", name=key, told=f"{key} told", start=start, end=end)

    layout = lay_bars([item("a", 0), item("b", 1), item("c", 2)], ["Ana"])
    links = [Link(before="a", after="b"), Link(before="b", after="c")]

    def drawn(of: str | None) -> ET.Element:
        root = draw_bars("Plan", layout, PALETTES["print"], links=links, of=of, address=str)
        return ET.fromstring(render(root))

    assert [len(drawn(of).findall(f"{SVG}circle")) for of in (None, "a", "b")] == [0, 1, 2]
    told = [link.get("aria-label") for link in drawn("a").iter(f"{SVG}a")]
    assert told == ["a told", "b told", "c told"]
    assert [e.get("href") for e in drawn("a").iter(f"{SVG}a") if e.get("data-chosen")] == ["a"]
