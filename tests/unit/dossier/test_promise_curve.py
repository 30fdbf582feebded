"""The curve of a promise: its three days, the plan's own, and the one that was told."""

from __future__ import annotations

import re
from datetime import date

import pytest

from asfound.dossier.figures.promise_curve import Finishes, promise_svg
from asfound.dossier.figures.ratios import RatioRow, ratios_svg

DAY = 1440
CURVE = [(10 + share / 10) * DAY for share in range(101)]
"""From the tenth to the twentieth day, evenly."""


def finishes(promised: date | None = None) -> Finishes:
    return Finishes(
        first_day=date(2026, 3, 2), curve_min=CURVE, plan_min=11 * DAY, promised=promised
    )


def test_the_days_of_three_chances_are_written() -> None:
    svg = promise_svg(finishes(), theme="print")
    for words in ("50% by 17 Mar", "80% by 20 Mar", "95% by 21 Mar", "the plan"):
        assert words in svg
    assert ">promised<" not in svg
    assert "var(--" not in svg


@pytest.mark.parametrize(("promised", "is_drawn"), [("2026-03-18", True), ("2027-03-18", False)])
def test_a_promised_day_is_drawn_where_it_is_near_and_told_in_any_case(
    promised: str, is_drawn: bool
) -> None:
    told = date.fromisoformat(promised)
    svg = promise_svg(finishes(told))
    assert (">promised<" in svg) is is_drawn
    assert f"promised for {told:%-d %b %Y}" in svg


def test_each_job_and_both_spans_are_drawn_on_one_scale() -> None:
    row = RatioRow(
        title="trimmer, 2 jobs",
        ratios=(0.25, 4.0),
        factor=1.0,
        low=0.8,
        high=1.25,
        job_low=0.5,
        job_high=2.0,
    )
    svg = ratios_svg([row], theme="print")
    assert svg.count("<circle") == 2
    places = [float(part.split('"')[0]) for part in svg.split('cx="')[1:]]
    middle = (12.0 + 358.0) / 2  # the scale is logarithmic, and the jobs lie alike on both sides
    assert sum(places) / 2 == pytest.approx(middle, abs=0.6)


def test_the_plan_s_name_never_lies_across_the_promised_day() -> None:
    """The plan ends half a day after the promised one, whose line its name would else cross."""
    near = Finishes(
        first_day=date(2026, 3, 2),
        curve_min=CURVE,
        plan_min=17.5 * DAY,
        promised=date(2026, 3, 18),
    )
    svg = promise_svg(near, theme="print")
    lines = [float(at) for at in re.findall(r'd="M([0-9.]+) [0-9.]+V', svg)]
    name = re.search(r'<text x="([0-9.]+)"[^>]*text-anchor="end"[^>]*>the plan<', svg)
    assert name is not None
    assert len(lines) == 2
    assert float(name[1]) < min(lines)
