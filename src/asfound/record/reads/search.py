"""Search over parts, places and findings, by the full-text index of the database."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.db import connection

from asfound.record.models import Observation, Part, Place
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.people import cars_with_room

MOST = 60
_WORDS_TAKEN = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search found, the best first in each kind; ``more`` says that it found more."""

    parts: tuple[Part, ...] = ()
    places: tuple[Place, ...] = ()
    findings: tuple[Observation, ...] = ()
    more: bool = False

    @property
    def count(self) -> int:
        """How many are shown."""
        return len(self.parts) + len(self.places) + len(self.findings)


def search(words: str, *, by: Any) -> Found:
    """Parts, places and findings with every one of the words, or words that begin so.

    Parameters
    ----------
    words : str
        As typed; signs between words part them, accents do not matter.
    by : user
        Only cars whose register they may look into are searched; places only for the workshop.
    """
    terms = terms_of(words)
    if not terms:
        return Found()
    cars = list(cars_with_room(by, OwnersRoom.PARTS).values_list("pk", flat=True))
    person = getattr(by, "person", None)
    places = person is not None and not person.is_owner
    rows = _rows(terms, cars=cars, places=places)
    keys: dict[str, list[int]] = {"part": [], "place": [], "finding": []}
    for kind, key in rows[:MOST]:
        keys[kind].append(key)
    return Found(
        parts=_in_order(Part.objects.select_related("car"), keys["part"]),
        places=_in_order(Place.objects.select_related("within"), keys["place"]),
        findings=_in_order(Observation.objects.select_related("car"), keys["finding"]),
        more=len(rows) > MOST,
    )


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


def _rows(terms: list[str], *, cars: Collection[int], places: bool) -> list[tuple[str, int]]:
    """Kind and key of what was found, the best first; one more than is shown."""
    given: list[str | int]
    marks = ", ".join(["%s"] * len(cars)) or "NULL"
    whose = f"(car_id IN ({marks}){' OR car_id IS NULL' if places else ''})"
    if connection.vendor == "postgresql":
        asked, match = (
            " & ".join(f"{term}:*" for term in terms),
            "words @@ to_tsquery('simple', %s)",
        )
        order = "ts_rank(words, to_tsquery('simple', %s)) DESC, rowid"
        given = [asked, *cars, asked]
    else:
        asked, match = " ".join(f'"{term}"*' for term in terms), "record_search MATCH %s"
        order, given = "bm25(record_search, 4.0, 1.0), rowid", [asked, *cars]
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT kind, ref FROM record_search WHERE {match} AND {whose} "  # noqa: S608 - marks
            f"ORDER BY {order} LIMIT {MOST + 1}",
            given,
        )
        return [(str(kind), int(key)) for kind, key in cursor.fetchall()]


def _in_order(rows: Any, keys: list[int]) -> tuple[Any, ...]:
    found = rows.in_bulk(keys)
    return tuple(found[key] for key in keys if key in found)
