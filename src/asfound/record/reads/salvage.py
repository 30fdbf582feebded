"""The salvage stock: what is there, what is taken of it, and what cars need."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from asfound.record.convert.salvage import StockState
from asfound.record.convert.salvage_rows import state_of
from asfound.record.models import Car, Observation, SalvagePiece, SalvageRow, SalvageUse
from asfound.record.reads.cars import cars_for

_SEARCHED = ("piece__number", "piece__tag", "kind", "name", "source_car", "place", "note", "made")
OFFERED = 200
THERE, RESERVED, CUT, USED_UP, WITHDRAWN = "there", "reserved", "cut", "used up", "withdrawn"


def stock(*, words: str = "", kind: str = "", only: str = THERE) -> QuerySet[SalvageRow]:
    """Pieces as they are described now, the latest first.

    Parameters
    ----------
    words : str
        Every word must stand somewhere in number, name, kind, car, place or notes.
    kind : str
        Only pieces of that kind; empty for all.
    only : str
        ``there`` (neither used up nor withdrawn), ``reserved`` and ``cut`` among those, ``used
        up``, or ``withdrawn``.
    """
    rows: QuerySet[SalvageRow] = SalvageRow.objects.filter(superseded_by=None)
    rows = rows.filter(withdrawn_at__isnull=only != WITHDRAWN).select_related("piece")
    uses = SalvageUse.objects.current().filter(piece=OuterRef("piece"))
    whole = uses.filter(what="used", outline_wkt="", count=None)
    counted = uses.filter(what="used").order_by().values("piece").annotate(n=Sum("count"))
    rows = rows.annotate(
        is_reserved=Exists(uses.filter(what="reserved")),
        is_cut=Exists(uses.filter(what="used")),
        is_gone=Exists(whole),
        used_n=Coalesce(Subquery(counted.values("n")), 0),
    )
    gone = Q(is_gone=True) | Q(count__isnull=False, count__lte=F("used_n"))
    if only == USED_UP:
        rows = rows.filter(gone)
    elif only != WITHDRAWN:
        rows = rows.exclude(gone)
    if only == RESERVED:
        rows = rows.filter(is_reserved=True)
    if only == CUT:
        rows = rows.filter(is_cut=True)
    if kind:
        rows = rows.filter(kind__iexact=kind)
    for word in words.split():
        somewhere = Q()
        for field in _SEARCHED:
            somewhere |= Q(**{f"{field}__icontains": word})
        rows = rows.filter(somewhere)
    return rows.order_by("-piece__pk")


def states_of(rows: Iterable[SalvageRow]) -> list[StockState]:
    """States of pieces in the order of their rows, in one query more."""
    rows = list(rows)
    by_piece: dict[int, list[SalvageUse]] = defaultdict(list)
    for use in SalvageUse.objects.current().filter(piece__in=[row.piece_id for row in rows]):
        by_piece[use.piece_id].append(use)
    return [state_of(row, by_piece[row.piece_id]) for row in rows]


def state_of_piece(row: SalvageRow) -> StockState:
    """State of one piece."""
    (state,) = states_of([row])
    return state


def words_met(field: str) -> list[str]:
    """What was written in a column of the stock before, in order."""
    rows = SalvageRow.objects.filter(superseded_by=None).exclude(**{field: ""})
    return list(rows.order_by(field).values_list(field, flat=True).distinct()[:OFFERED])


def pieces_in(place: str) -> QuerySet[SalvageRow]:
    """Pieces of the stock that lie in a place."""
    return stock().filter(place=place)


def piece_with_tag(tag: str) -> SalvagePiece | None:
    """Piece of the stock that carries the tag."""
    return SalvagePiece.objects.filter(tag=tag).first() if tag else None


def needs_of(cars: Iterable[Car] | QuerySet[Car]) -> QuerySet[Observation]:
    """Needs of cars, the latest first."""
    rows: QuerySet[Observation] = Observation.objects.current()
    found = rows.filter(car__in=cars, table="needs").select_related("car")
    return found.order_by("-pk")


def needs_of_person(user: Any) -> QuerySet[Observation]:
    """Needs of all cars that the person may see."""
    return needs_of(cars_for(user))


def served(needs: Iterable[Observation]) -> Mapping[int, list[SalvageUse]]:
    """What is reserved or used for each of the needs, by the need's key."""
    named = {(need.car_id, need.cells.get("need", "")): need.pk for need in needs}
    uses = SalvageUse.objects.current().filter(
        car__in={car for car, _ in named}, need__in={name for _, name in named}
    )
    found: dict[int, list[SalvageUse]] = defaultdict(list)
    for use in uses.select_related("piece"):
        key = named.get((use.car_id, use.need))
        if key is not None:
            found[key].append(use)
    return found
