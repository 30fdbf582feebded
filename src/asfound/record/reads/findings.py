"""The findings of a car: found by words, on one subject, on one photograph, and their history."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Count, FloatField, Q, QuerySet
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Cast

from asfound.craft.conditions import KINDS, Kind
from asfound.record.convert.findings import files_of
from asfound.record.models import Car, FindingKind, Observation

TABLE = "findings"
_SEARCHED = ("kind", "extent", "note", "found_by", "opinion", "advice", "opinion_by")
_ORDERS = {
    "worst": ("-severity", "subject", "position"),
    "newest": ("-position",),
    "subject": ("subject", "position"),
}
_MOST_VERSIONS = 100
_KINDS_MET = 60


def findings_that_count(car: Car) -> QuerySet[Observation]:
    """Findings that were neither corrected nor withdrawn, in the order they came."""
    found: QuerySet[Observation] = car.observations.current().filter(table=TABLE)
    return found.order_by("position", "pk")


def found_by_words(
    car: Car, words: str = "", *, least: float = 0, order: str = "worst"
) -> QuerySet[Observation]:
    """Findings in which every word stands somewhere.

    Parameters
    ----------
    car : Car
    words : str
        Sought in kind, extent, note, people, opinion and advice, in the subject and in the name
        of a part.
    least : float
        Severity, 0 to 4.
    order : {"worst", "newest", "subject"}
    """
    severity = Cast(KeyTextTransform("severity", "cells"), FloatField())
    found = findings_that_count(car).annotate(severity=severity)
    if least > 0:
        found = found.filter(severity__gte=least)
    for word in words.split():
        somewhere = Q(subject__icontains=word)
        for cell in _SEARCHED:
            somewhere |= Q(**{f"cells__{cell}__icontains": word})
        named = car.parts.filter(name__icontains=word).values("part")
        found = found.filter(somewhere | Q(subject__in=named))
    return found.order_by(*_ORDERS.get(order, _ORDERS["worst"]))


def findings_on(car: Car, subject: str) -> QuerySet[Observation]:
    """Findings of one part or panel that count, in the order they came."""
    return findings_that_count(car).filter(subject=subject)


def findings_on_photo(car: Car, file: str) -> list[Observation]:
    """Findings that name a photograph, in the order they came; none for no file."""
    if not file:
        return []
    near = findings_that_count(car).filter(cells__photo__icontains=file)
    return [one for one in near if file in files_of(one.cells.get("photo", ""))]


def versions_of(finding: Observation) -> list[Observation]:
    """Every version of a finding, the latest first."""
    with_people = Observation.objects.select_related("entered_by", "withdrawn_by")
    chain = with_people.filter(car=finding.car, table=TABLE, position=finding.position)
    rows = list(chain.order_by("-pk")[:_MOST_VERSIONS])
    return _linked(finding, rows)


def _linked(finding: Observation, rows: Sequence[Observation]) -> list[Observation]:
    """Those of the rows that led to a finding or follow it; tables loaded anew leave others."""
    before = {row.superseded_by_id: row for row in rows if row.superseded_by_id}
    after = {row.pk: row for row in rows}
    last = finding
    while last.superseded_by_id in after:
        last = after[last.superseded_by_id]
    found = [last]
    while found[-1].pk in before:
        found.append(before[found[-1].pk])
    return found


def kinds_offered(car: Car, *, on_panels: bool | None = None) -> list[Kind]:
    """Kinds to offer: those met on the car, most often first, then the workshop's, then ours.

    Parameters
    ----------
    car : Car
    on_panels : bool or None
        Count what was met on panels alone, or on everything else alone; ``None`` for both.
    """
    here = findings_that_count(car).order_by()
    if on_panels is not None:
        panels = car.panels.values("panel")
        here = here.filter(subject__in=panels) if on_panels else here.exclude(subject__in=panels)
    met = (
        here.annotate(kind=KeyTextTransform("kind", "cells"))
        .values("kind")
        .annotate(n=Count("pk"))
        .order_by("-n", "kind")
        .values_list("kind", flat=True)[:_KINDS_MET]
    )
    own = FindingKind.objects.current().order_by("word")
    known = {kind.word: kind for kind in KINDS}
    ours = set(known)
    known |= {k.word: Kind(word=k.word, group=k.group, says=k.says) for k in own}
    first = [known.pop(word, Kind(word=word, group="", says="")) for word in met if word]
    rest = sorted(known.values(), key=lambda kind: kind.word in ours)
    return [*first, *rest]
