"""The register: which parts a car has, where they are, what happened to them."""

from __future__ import annotations

from collections.abc import Collection
from itertools import islice

from django.db.models import Count, Q, QuerySet

from asfound.record.models import Car, Observation, Part, Place

PLACES_OFFERED = 1_000
_SEARCHED = ("part", "name", "place", "section", "tag", "note", "fixed_with", "joint")


def parts_of(
    car: Car, *, words: str = "", within: str | None = None, only: str = "there"
) -> QuerySet[Part]:
    """Parts of a car in their order.

    Parameters
    ----------
    car : Car
    words : str
        Every word must stand somewhere in the part's number, name, place or notes.
    within : str or None
        Number of the assembly whose direct parts are wanted; empty for those in none, ``None``
        for all.
    only : str
        ``there``, ``missing`` (no place, or the state says missing), ``safety``, ``lent``,
        ``gone`` or ``all``.
    """
    parts = car.parts.all()
    if only == "gone":
        parts = parts.exclude(fate="")
    elif only != "all":
        parts = parts.filter(fate="")
    if only == "missing":
        parts = parts.filter(Q(place="") | Q(state__startswith="missing"))
    if only == "safety":
        parts = parts.filter(safety=True)
    if only == "lent":
        parts = parts.exclude(lent_to="")
    if within is not None:
        parts = parts.filter(parent=within)
    for word in words.split():
        somewhere = Q()
        for field in _SEARCHED:
            somewhere |= Q(**{f"{field}__icontains": word})
        parts = parts.filter(somewhere)
    return parts


def part_with_tag(tag: str) -> Part | None:
    """Part that carries the tag: one that is still there before one that is gone."""
    carrying = Part.objects.filter(tag=tag).select_related("car")
    return carrying.filter(fate="").first() or carrying.first() if tag else None


def place_with_tag(tag: str) -> Place | None:
    """Place that carries the tag."""
    return Place.objects.filter(tag=tag, withdrawn_at=None).first() if tag else None


def history_of(part: Part, table: str) -> QuerySet[Observation]:
    """Observations of a part in one table, the latest first."""
    seen = part.car.observations.current().filter(table=table, subject=part.part)
    return seen.select_related("entered_by").order_by("-position", "-pk")


def assemblies_above(part: Part) -> list[Part]:
    """Assemblies that the part belongs to, the outermost first."""
    found: list[Part] = []
    above = part.parent
    while above and len(found) < 20 and above not in {p.part for p in found}:
        parent = part.car.parts.filter(part=above).first()
        if parent is None:
            break
        found.insert(0, parent)
        above = parent.parent
    return found


def names_of_places(car: Car) -> list[str]:
    """Names to offer where a place is asked for: the workshop's, then those parts name."""
    entered = Place.objects.filter(withdrawn_at=None)
    known = list(entered.values_list("name", flat=True)[:PLACES_OFFERED])
    named = car.parts.exclude(place="").order_by().values_list("place", flat=True).distinct()[:500]
    return list(dict.fromkeys([*known, *named]))


def counts_by_place(names: Collection[str]) -> dict[str, int]:
    """How many parts lie in each of the places, over all cars."""
    there = Part.objects.filter(fate="", place__in=names).order_by("place")
    counted = there.values("place").annotate(n=Count("pk"))
    return {row["place"]: row["n"] for row in counted}


def places_not_entered(*, most: int) -> dict[str, int]:
    """Places that parts name and nobody entered, with how many parts lie there."""
    entered = set(Place.objects.filter(withdrawn_at=None).values_list("name", flat=True))
    there = Part.objects.filter(fate="").exclude(place="").order_by("place")
    named = there.values_list("place", flat=True).distinct()
    return counts_by_place(list(islice((n for n in named if n not in entered), most)))
