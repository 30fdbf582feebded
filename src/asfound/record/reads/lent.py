"""Parts that are on another car for the time being, seen from both cars."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.models import Car, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Lent:
    """A part on loan: to which car, where the record has it, and why."""

    part: Part
    car: Car | None
    car_words: str
    why: str


def lent_by(part: Part) -> Lent | None:
    """Where the part is lent to, if it is."""
    if not part.lent_to:
        return None
    slug, _, why = part.lent_to.partition(":")
    car = Car.objects.filter(slug=slug.strip()).first()
    return Lent(
        part=part, car=car, car_words=slug.strip() if car is None else str(car), why=why.strip()
    )


def borrowed_by(car: Car) -> list[Lent]:
    """Parts of other cars that are on this one."""
    lent = Part.objects.filter(fate="", lent_to__gt="")  # few, and they have an index
    rows = lent.filter(lent_to__startswith=f"{car.slug}:").order_by().select_related("car")
    return [
        Lent(part=row, car=car, car_words=str(car), why=row.lent_to.partition(":")[2].strip())
        for row in sorted(rows, key=lambda one: (one.car_id, one.position))
    ]
