"""A plan of one car as bars along the days: by person, by bay, or task by task."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Literal

from asfound.dossier.figures.bars import WHOLE, Item, Window, lay_bars
from asfound.dossier.figures.bars_drawn import Link, draw_bars
from asfound.dossier.figures.palette import PALETTES, Theme
from asfound.dossier.figures.svg import render
from asfound.plan import Placed, Plan
from asfound.record.convert.plan import ShopQuestion

By = Literal["person", "bay", "task"]
NO_BAY, NOBODY = "no bay", "nobody"
_FOOT = ("Heavy edge: sets the finish. Pale bands: Saturday and Sunday. Nights are left out.",)


def plan_svg(
    question: ShopQuestion,
    plan: Plan,
    *,
    by: By = "person",
    critical: Sequence[str] = (),
    names: Mapping[str, str] | None = None,
    of: str = "",
    window: Window = WHOLE,
    now: datetime | None = None,
    address: Callable[[str], str] | None = None,
    theme: Theme = "page",
) -> str:
    """Bars of a plan as SVG.

    Parameters
    ----------
    question : ShopQuestion
    plan : Plan
    by : {"person", "bay", "task"}
        What a row is.
    critical : sequence of str
        Tasks that set the finish; drawn with a heavy edge.
    names : mapping of str to str
        What each task is.
    of : str
        Task whose links are drawn; none if empty.
    window : Window
        The days that are shown.
    now : datetime, optional
        Drawn as a line.
    address : callable, optional
        Gives the address behind a bar; bars lead nowhere without it.
    theme : {"page", "print"}

    Notes
    -----
    A bar runs from start to end over nights and days off. A line from bar to bar is a link; its
    flat part is waiting.
    """
    items = plan_items(question, plan, by=by, critical=critical, names=names or {})
    drawn = draw_bars(
        f"The plan by {by}",
        lay_bars(items, _rows(question, by), window=window, stacked=by == "task"),
        PALETTES[theme],
        links=[
            Link(before=k.before, after=k.after, lag=timedelta(minutes=k.lag_min))
            for k in question.problem.links
        ],
        of=of or None,
        address=None if address is None else _by_name(address),
        now=now,
        foot=_FOOT,
    )
    return render(drawn)


def plan_span(question: ShopQuestion, plan: Plan) -> tuple[date, date]:
    """First and last day of a plan; both its first where there is no task."""
    starts = [question.at(placed.start_min).date() for placed in plan.placed]
    ends = [question.at(placed.end_min).date() for placed in plan.placed]
    return min(starts, default=question.first_day), max(ends, default=question.first_day)


def plan_items(
    question: ShopQuestion,
    plan: Plan,
    *,
    by: By,
    critical: Sequence[str],
    names: Mapping[str, str],
) -> list[Item]:
    """Every task in each row in which it stands."""
    return [
        Item(
            key=placed.task,
            row=row,
            name=names.get(placed.task) or placed.task,
            told=_told(question, placed, names.get(placed.task, "")),
            start=question.at(placed.start_min),
            end=question.at(placed.end_min),
            heavy=placed.task in critical,
        )
        for placed in plan.placed
        for row in _rows_of(question, placed, by)
    ]


def _rows_of(question: ShopQuestion, placed: Placed, by: By) -> Iterator[str]:
    if by == "task":
        yield ""
    elif by == "person":
        yield from placed.people or (NOBODY,)
    else:
        yield from question.problem.named[placed.task].bays or (NO_BAY,)


def _rows(question: ShopQuestion, by: By) -> list[str]:
    """Rows in the order of the tables."""
    named = {
        "person": [p.person for p in question.problem.people],
        "bay": [b.bay for b in question.problem.bays],
    }
    return named.get(by, [])


def _by_name(address: Callable[[str], str]) -> Callable[[Hashable], str]:
    return lambda key: address(str(key))


def _told(question: ShopQuestion, placed: Placed, name: str) -> str:
    begin, end = question.at(placed.start_min), question.at(placed.end_min)
    who = f", {', '.join(placed.people)}" if placed.people else ""
    full = f"{placed.task} {name}".strip()
    return f"{full}, {begin:%a %-d %b %H:%M} to {end:%a %-d %b %H:%M}{who}"
