"""Taking photographs in: the bytes untouched on the shelf, a row of the record for each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import IO, Any

from asfound.exchange.photographs.about import About, about
from asfound.exchange.photographs.tags_seen import tags_in
from asfound.record.actions import keep_photo
from asfound.record.faults import Fault
from asfound.record.models import Car, Photo
from asfound.record.reads.register import part_with_tag
from asfound.record.shelf import place_of, shelve


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What came of some files.

    ``photos`` were kept, among them those that the record had already; ``labels_n`` of the files
    showed a tag and began a new subject; ``faults`` name the files that were not taken.
    """

    photos: tuple[Photo, ...]
    labels_n: int
    faults: tuple[Fault, ...]


def take_in(
    files: Iterable[tuple[str, IO[bytes]]],
    *,
    car: Car,
    subject: str,
    view: str,
    stage: str,
    by: Any,
    by_labels: bool = False,
) -> Taken:
    """Photographs of the car, in the order of the files.

    Parameters
    ----------
    files : iterable of (str, binary stream)
        Each with the name that the person knows it by.
    car : Car
    subject : str
        Part or panel that they show.
    view, stage : str
        How they show it, and whether before, during or after the work.
    by : user or None
    by_labels : bool
        A photograph that shows the tag of one of the car's parts begins a session: it and those
        after it belong to that part, until the next tag.
    """
    photos: list[Photo] = []
    faults: list[Fault] = []
    labels_n = 0
    for name, stream in files:
        shelved = shelve(stream)
        path = place_of(shelved.sha256)
        told = about(path, name=name)
        if isinstance(told, Fault):
            faults.append(told)
            continue
        tagged = _tagged(car, tags_in(path)) if by_labels else ""
        if tagged:
            subject, labels_n = tagged, labels_n + 1
        photos.append(_keep(car, shelved.sha256, shelved.size, told, subject, view, stage, by))
    return Taken(photos=tuple(photos), labels_n=labels_n, faults=tuple(faults))


def _keep(
    car: Car, sha256: str, size: int, told: About, subject: str, view: str, stage: str, by: Any
) -> Photo:
    return keep_photo(
        car=car,
        sha256=sha256,
        size=size,
        suffix=told.suffix,
        subject=subject,
        view=view,
        stage=stage,
        taken_at=told.taken_at,
        by=by,
    )


def _tagged(car: Car, tags: tuple[str, ...]) -> str:
    """Number of the car's part that one of the tags belongs to."""
    for tag in tags:
        part = part_with_tag(tag)
        if part is not None and part.car_id == car.pk:
            return part.part
    return ""
