"""The promise of each car on a page: its curve, what makes it late, what its finish hangs on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from asfound.dossier.figures.promise_curve import Finishes, promise_svg
from asfound.record.results.planned_car import HangsOn, PlannedCar
from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask

LINKS_SHOWN = 6
"""Of a chain, those nearest to the finish."""
OPEN_CARS = 3
"""Cars whose promise is unfolded at first, beside those that are at risk."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainLine:
    """One task of the chain, and why it cannot begin sooner."""

    task: PlannedTask
    car: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Promised:
    """All that is said of one car's promise."""

    car: PlannedCar
    curve: str
    late: tuple[tuple[str, float], ...]
    chain_n: int
    waits: str
    chain: tuple[ChainLine, ...]
    is_open: bool

    @property
    def draws(self) -> str:
        """How many draws the promise rests on, in words."""
        return f"{self.car.draws:,}"

    @property
    def left_out_n(self) -> int:
        """Tasks of the chain before those that are shown."""
        return self.chain_n - len(self.chain)


def promises_of(shop: PlannedShop) -> list[Promised]:
    """Each car with its promise, in the order of the plan."""
    return [
        Promised(
            car=car,
            curve=promise_svg(finishes) if (finishes := finishes_of(shop, car)) else "",
            late=tuple((_name(shop, (o.car, o.task), car), o.days) for o in car.late_because),
            chain_n=len(car.hangs_on),
            waits=_waits(car),
            chain=tuple(_chain(shop, car)),
            is_open=place < OPEN_CARS or car.is_at_risk,
        )
        for place, car in enumerate(shop.cars)
    ]


def finishes_of(shop: PlannedShop, car: PlannedCar) -> Finishes | None:
    """Finish of a car in doubt; ``None`` in a plan that was adopted before such were kept."""
    if not car.curve:
        return None
    since = car.finish - shop.made_at.replace(hour=0, minute=0)
    return Finishes(
        first_day=shop.made_at.date(),
        curve_min=car.curve,
        plan_min=since.total_seconds() / 60,
        promised=car.promised,
    )


def _chain(shop: PlannedShop, car: PlannedCar) -> Iterator[ChainLine]:
    for one in car.hangs_on[-LINKS_SHOWN:]:
        task = shop.by_key.get((one.car, one.task))
        if task is not None:
            other = "" if one.car == car.car else shop.titles.get(one.car, one.car)
            yield ChainLine(task=task, car=other, why=_why(shop, one, task, car))


def _why(shop: PlannedShop, one: HangsOn, task: PlannedTask, car: PlannedCar) -> str:
    """Why it cannot begin sooner, in words."""
    before = _name(shop, one.before, car) if one.before else ""
    match one.kind:
        case "start":
            return "is under way" if task.begun else "can begin at once"
        case "day":
            return f"not before its day: {one.of}" if one.of else "not before the day set for it"
        case "closed":
            return f"waits until {one.of} is open again"
        case "task":
            return f"after {before}"
        case "waiting":
            return f"after {before} and its time of drying or delivery"
        case "person":
            return f"waits for {one.of}, who is at {before}"
        case _:
            return f"waits for the {one.of}, which holds {before}"


def _waits(car: PlannedCar) -> str:
    """How often the chain waits for each person and bay, the most often first."""
    counted = Counter(one.of for one in car.hangs_on if one.kind in ("person", "bay", "closed"))
    return ", ".join(f"{count} for {name}" for name, count in counted.most_common())


def _name(shop: PlannedShop, key: Key, car: PlannedCar) -> str:
    """Task in words, with its car where that is another."""
    task = shop.by_key.get(key)
    words = (task.name if task else "") or key[1]
    return words if key[0] == car.car else f"{words} ({shop.titles.get(key[0], key[0])})"
