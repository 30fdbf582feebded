"""Taking photographs in: the bytes untouched on the shelf, a row of the record for each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import IO, Any

from asfound.exchange.photographs.read_in import ReadIn, read_in
from asfound.exchange.photographs.tags_seen import tags_in
from asfound.record.actions import keep_photo
from asfound.record.faults import Fault
from asfound.record.models import Car, Photo
from asfound.record.reads.register import part_with_tag
from asfound.record.shelf import place_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What came of some files.

    ``photos`` were kept, among them those that the record had already; ``labels_n`` of the files
    showed a tag and began a new subject; ``faults`` name the files that were not taken.
    ``subject`` is what a photograph after the last of them belongs to.
    """

    photos: tuple[Photo, ...]
    labels_n: int
    faults: tuple[Fault, ...]
    subject: str


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
        got = read_in(name, stream)
        if isinstance(got, Fault):
            faults.append(got)
            continue
        tagged = _tagged(car, tags_in(place_of(got.sha256))) if by_labels else ""
        if tagged:
            subject, labels_n = tagged, labels_n + 1
        photos.append(keep_read(got, car=car, subject=subject, view=view, stage=stage, by=by))
    return Taken(photos=tuple(photos), labels_n=labels_n, faults=tuple(faults), subject=subject)


def keep_read(got: ReadIn, *, car: Car, subject: str, view: str, stage: str, by: Any) -> Photo:
    """Row of the record for a photograph that is on the shelf.

    Parameters
    ----------
    got : ReadIn
    car : Car
    subject, view, stage : str
    by : user or None
    """
    return keep_photo(
        car=car,
        sha256=got.sha256,
        size=got.size,
        suffix=got.about.suffix,
        subject=subject,
        view=view,
        stage=stage,
        taken_at=got.about.taken_at,
        by=by,
    )


def _tagged(car: Car, tags: tuple[str, ...]) -> str:
    """Number of the car's part that one of the tags belongs to."""
    for tag in tags:
        part = part_with_tag(tag)
        if part is not None and part.car_id == car.pk:
            return part.part
    return ""
