"""A plan of the whole shop as bars along the days: by person, by bay, or by car."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterator, Mapping
from datetime import date, datetime
from string import ascii_uppercase
from typing import Literal

from asfound.dossier.figures.bars import WHOLE, Item, Layout, Window, lay_bars, midnight_after
from asfound.dossier.figures.bars_drawn import Flag, Link, draw_bars
from asfound.dossier.figures.palette import PALETTES, Theme
from asfound.dossier.figures.svg import render
from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask

ShopBy = Literal["person", "bay", "car"]
NO_BAY, NOBODY = "no bay", "nobody"
_KEY = (
    "Heavy edge: sets the finish. Dashed edge: begun. Pale bands: Saturday and Sunday. "
    "Nights are left out."
)
_KEY_BY_CAR = "Dotted line: dries, nobody works. Flag: promised day."


def shop_svg(
    shop: PlannedShop,
    *,
    by: ShopBy = "person",
    of: Key | None = None,
    window: Window = WHOLE,
    now: datetime | None = None,
    address: Callable[[PlannedTask], str] | None = None,
    only: Collection[str] | None = None,
    theme: Theme = "page",
) -> str:
    """Bars of the shop's plan as SVG.

    Parameters
    ----------
    shop : PlannedShop
    by : {"person", "bay", "car"}
        What a row is.
    of : (str, str) or None
        Car and task whose links are drawn.
    window : Window
        The days that are shown.
    now : datetime, optional
        Drawn as a line.
    address : callable, optional
        Gives the address behind a bar; bars lead nowhere without it.
    only : collection of str, optional
        Rows that are drawn; all if not given.
    theme : {"page", "print"}

    Notes
    -----
    A bar runs from start to end over nights and days off. Drying and curing are a dotted line
    behind it, for nobody works then. By car, a flag stands at the end of the promised day;
    by person and by bay, a letter before the name tells the car.
    """
    drawn = draw_bars(
        f"The plan of the shop by {by}",
        shop_layout(shop, by=by, window=window, only=only),
        PALETTES[theme],
        links=[Link(before=(c, one), after=(c, two)) for c, one, two in shop.links],
        of=of,
        address=None if address is None else _behind(shop, address),
        flags=list(_flags(shop)) if by == "car" else (),
        now=now,
        foot=[_KEY, _KEY_BY_CAR if by == "car" else _cars_told(shop)],
    )
    return render(drawn)


def shop_layout(
    shop: PlannedShop,
    *,
    by: ShopBy,
    window: Window = WHOLE,
    only: Collection[str] | None = None,
) -> Layout:
    """Where every row and bar lies."""
    rows = {"person": shop.people, "bay": shop.bays, "car": tuple(shop.titles.values())}[by]
    items = list(_items(shop, by))
    return lay_bars(items, rows, window=window, until=shop.made_at, only=only)


def _items(shop: PlannedShop, by: ShopBy) -> Iterator[Item]:
    marks = _marks(shop)
    for task in shop.tasks:
        name = task.name or task.task
        for row in _rows_of(shop, task, by):
            yield Item(
                key=task.key,
                row=row,
                name=name if by == "car" or not marks else f"{marks[task.car]} · {name}",
                told=_told(task, shop.titles),
                start=task.start,
                end=task.end,
                rests_until=task.rests_until if by == "car" else None,
                heavy=task.critical,
                begun=task.begun,
            )


def _rows_of(shop: PlannedShop, task: PlannedTask, by: ShopBy) -> tuple[str, ...]:
    if by == "person":
        return task.people or (NOBODY,)
    return (task.bay or NO_BAY,) if by == "bay" else (shop.titles[task.car],)


def _marks(shop: PlannedShop) -> Mapping[str, str]:
    """A letter for each car, where there are several and letters are enough."""
    cars = list(shop.titles)
    if not 1 < len(cars) <= len(ascii_uppercase):
        return {}
    return dict(zip(cars, ascii_uppercase, strict=False))


def _cars_told(shop: PlannedShop) -> str:
    return "; ".join(f"{letter} · {shop.titles[car]}" for car, letter in _marks(shop).items())


def _behind(shop: PlannedShop, address: Callable[[PlannedTask], str]) -> Callable[[Hashable], str]:
    tasks: Mapping[Hashable, PlannedTask] = {task.key: task for task in shop.tasks}
    return lambda key: address(tasks[key])


def _flags(shop: PlannedShop) -> Iterator[Flag]:
    for car in shop.cars:
        if car.promised is not None:
            told = f"{car.title} is promised for {_day(car.promised)}"
            yield Flag(row=car.title, at=midnight_after(car.promised), told=told)


def _told(task: PlannedTask, titles: Mapping[str, str]) -> str:
    who = f", {', '.join(task.people)}" if task.people else ""
    full = f"{titles[task.car]}: {task.task} {task.name}".strip()
    dries = f", dries until {_when(task.rests_until)}" if task.rests_until else ""
    return f"{full}, {_when(task.start)} to {_when(task.end)}{who}{dries}"


def _when(at: datetime) -> str:
    return f"{at:%a %-d %b %H:%M}"


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"
