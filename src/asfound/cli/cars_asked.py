"""Cars that are planned together: their folders, with what the command says of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from asfound.exchange import read_folder
from asfound.record.convert.in_shop import TABLE, in_shop, in_shop_sheet
from asfound.record.convert.shop import CarAtWork
from asfound.record.convert.workshop import lent_to, with_workshop
from asfound.record.folder import CarFolder, Sheet

MOST_PRIORITY = 1000


def cars_asked(
    folders: tuple[Path, ...],
    *,
    priorities: tuple[str, ...],
    promises: tuple[str, ...],
    shared: Mapping[str, Sheet],
) -> list[CarAtWork]:
    """Each folder as a car at work.

    Parameters
    ----------
    folders : tuple of Path
    priorities, promises : tuple of str
        ``CAR=N`` and ``CAR=DAY``; they go before what the folders say.
    shared : mapping of str to Sheet
        Tables of the workshop, for cars without.
    """
    names = [folder.resolve().name for folder in folders]
    if len(set(names)) < len(names):
        twice = ", ".join(sorted({name for name in names if names.count(name) > 1}))
        raise click.UsageError(f"two folders are called {twice}; a car's name is its folder's.")
    weights = dict(_priorities(priorities, names))
    days = dict(_promises(promises, names))
    cars = []
    for name, folder in zip(names, folders, strict=True):
        car = _placed(read_folder(folder), weights.get(name), days.get(name))
        planned = with_workshop(car, shared)
        priority = in_shop(car).priority
        cars.append(CarAtWork(name=name, folder=planned, priority=priority, lent=lent_to(planned)))
    return cars


def _placed(car: CarFolder, priority: float | None, promised: date | None) -> CarFolder:
    """The car with what the command says of its place in the shop."""
    place = in_shop(car)
    place = replace(place, priority=priority or place.priority, promised=promised or place.promised)
    sheet = in_shop_sheet(place, car.sheet(TABLE))
    return replace(car, sheets={**car.sheets, TABLE: sheet}) if len(sheet) else car


def _priorities(texts: tuple[str, ...], names: list[str]) -> Iterator[tuple[str, float]]:
    for text in texts:
        name, number = _of_car("--priority", text, names)
        try:
            weight = float(number)
        except ValueError:
            weight = 0.0
        if not 0 < weight <= MOST_PRIORITY:
            raise click.UsageError(f"--priority {text}: give a number above 0, at most 1000.")
        yield name, weight


def _promises(texts: tuple[str, ...], names: list[str]) -> Iterator[tuple[str, date]]:
    for text in texts:
        name, day = _of_car("--promised", text, names)
        try:
            yield name, date.fromisoformat(day)
        except ValueError:
            raise click.UsageError(
                f"--promised {text}: give a day such as {name}=2026-05-29."
            ) from None


def _of_car(option: str, text: str, names: list[str]) -> tuple[str, str]:
    name, _, told = text.rpartition("=")
    if name not in names:
        raise click.UsageError(f"{option} {text}: no folder is called {name!r}.")
    return name, told
