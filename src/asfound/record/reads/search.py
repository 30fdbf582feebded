"""Search over parts, places, findings and the stock, by the full-text index of the database."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.db import connection

from asfound.record.models import Observation, Part, Place, SalvageRow
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.people import cars_with_room

MOST = 60
_WORDS_TAKEN = 8
_RANKED = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search found, the best first in each kind; ``more`` says that it found more."""

    parts: tuple[Part, ...] = ()
    places: tuple[Place, ...] = ()
    findings: tuple[Observation, ...] = ()
    pieces: tuple[SalvageRow, ...] = ()
    more: bool = False

    @property
    def count(self) -> int:
        """How many are shown."""
        return len(self.parts) + len(self.places) + len(self.findings) + len(self.pieces)


def search(words: str, *, by: Any) -> Found:
    """Parts, places, findings and pieces of the stock that have all of the words, as beginnings.

    Parameters
    ----------
    words : str
        As typed; signs between words part them, accents do not matter. A single letter or digit
        stands for itself, more for every word that begins so.
    by : user
        Only cars whose register they may look into are searched; places and the stock only for
        the workshop.
    """
    terms = terms_of(words)
    if not terms:
        return Found()
    rows = _rows(terms, cars=_cars_searched(by))
    keys: dict[str, list[int]] = {"part": [], "place": [], "finding": [], "stock": []}
    for kind, key in rows[:MOST]:
        keys[kind].append(key)
    return Found(
        parts=_in_order(Part.objects.select_related("car"), keys["part"]),
        places=_in_order(Place.objects.select_related("within"), keys["place"]),
        findings=_in_order(Observation.objects.select_related("car"), keys["finding"]),
        pieces=_in_order(SalvageRow.objects.select_related("piece"), keys["stock"]),
        more=len(rows) > MOST,
    )


def _cars_searched(by: Any) -> list[int] | None:
    """Cars of somebody who may not look into all; ``None`` for the workshop, places included."""
    person = getattr(by, "person", None)
    if person is not None and by.is_active and not person.is_owner:
        return None
    return list(cars_with_room(by, OwnersRoom.PARTS).values_list("pk", flat=True))


def terms_of(words: str) -> list[str]:
    """Words to look for, in small letters without accents.

    Examples
    --------
    >>> terms_of('Schloß, "Tür" 12-a')
    ['schloß', 'tur', '12', 'a']
    """
    bare = unicodedata.normalize("NFKD", words.lower())
    plain = "".join(sign for sign in bare if not unicodedata.combining(sign))
    return re.findall(r"[^\W_]+", plain)[:_WORDS_TAKEN]


def _rows(terms: list[str], *, cars: Collection[int] | None) -> list[tuple[str, int]]:
    """Kind and key of what was found, one more than is shown.

    Those come first whose name has every word. So many are ranked at most: more words lead on
    where thousands have them, and ranking every one would take longer than typing on.
    """
    titled = _matching(terms, cars, in_title=True)
    rest = _matching(terms, cars, in_title=False) if len(titled) <= MOST else []
    return list(dict.fromkeys([*titled, *rest]))[: MOST + 1]


def _matching(
    terms: list[str], cars: Collection[int] | None, *, in_title: bool
) -> list[tuple[str, int]]:
    whose, given = "TRUE", list[str | int]()
    if cars is not None:
        whose = f"car_id IN ({', '.join(['%s'] * len(cars)) or 'NULL'})"
        given = [*cars]
    if connection.vendor == "postgresql":
        words = "titled" if in_title else "words"
        match, score = f"{words} @@ asked", f"-ts_rank({words}, asked)"
        asked = " & ".join(_postgresql(term) for term in terms)
        source = "record_search, to_tsquery('simple', %s) AS asked"
        given = [asked, *given]
    else:
        match, score = "record_search MATCH %s", "bm25(record_search, 4.0, 1.0)"
        asked = " AND ".join(_sqlite(term) for term in terms)
        source, given = "record_search", [f"title : ({asked})" if in_title else asked, *given]
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT kind, ref FROM (SELECT kind, ref, rowid AS number, {score} AS score "  # noqa: S608 - marks
            f"FROM {source} WHERE {match} AND {whose} LIMIT {_RANKED}) AS ranked "
            f"ORDER BY score, number LIMIT {MOST + 1}",
            given,
        )
        return [(str(kind), int(key)) for kind, key in cursor.fetchall()]


def _sqlite(term: str) -> str:
    return f'"{term}"' + "*" * (len(term) > 1)


def _postgresql(term: str) -> str:
    return term + ":*" * (len(term) > 1)


def _in_order(rows: Any, keys: list[int]) -> tuple[Any, ...]:
    found = rows.in_bulk(keys)
    return tuple(found[key] for key in keys if key in found)
