"""A workshop's whole record, invented, built quickly for the load script."""

from __future__ import annotations

import hashlib
import io
import json
import os
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

CARS, PARTS, PHOTOS, BOXES = 40, 3_000, 10_000, 400
WITH_PICTURES = 150
"""So many of a car's latest photographs have a small picture, one and the same file."""
PEOPLE = 8
_BATCH = 2_000
_WORDS = (
    *("hinge", "bracket", "grommet", "escutcheon", "trim clip", "seal", "lamp rim", "cable"),
    *("washer", "bearing", "spring", "lever", "bezel", "hose", "pinion", "latch", "strap"),
)
_SIDES = ("front left", "front right", "rear left", "rear right", "dashboard", "engine bay")
_STATES = ("original and in place", "period", "later", "reproduction", "undetermined")
_VIEWS = ("whole", "marks", "fixing places", "back", "damage")


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What a person of the load script must know to find their way."""

    sessions: tuple[str, ...]
    cars: tuple[str, ...]
    parts: tuple[tuple[str, str], ...]
    boxes: tuple[tuple[str, str], ...]
    photos: dict[str, tuple[str, ...]]


def build(out: Path, *, cars: int = CARS) -> Place:
    """Record of so many cars in the home that Django was set up with; told again if it is there."""
    if out.exists():
        told = json.loads(out.read_text(encoding="utf-8"))
        return Place(**told)
    begun = time.perf_counter()
    place = _build(cars)
    out.write_text(json.dumps(asdict(place)), encoding="utf-8")
    print(f"  built in {time.perf_counter() - begun:.0f} s")
    return place


def _build(cars_n: int) -> Place:
    from asfound.demo.car import demo_folder  # noqa: PLC0415 - needs Django set up
    from asfound.record.actions import add_place, create_account, load_car  # noqa: PLC0415

    draw = np.random.default_rng(11)
    people = [
        create_account(username=f"person-{n}", role=role, password="load-walnut-41", by=None)
        for n, role in enumerate(["head", *["craftsperson"] * (PEOPLE - 1)])
    ]
    shelves = [_place(add_place, f"Shelf {n}", "shelf", None) for n in range(BOXES // 20)]
    boxes = [_place(add_place, f"Box {n}", "box", shelves[n // 20]) for n in range(BOXES)]
    folder, picture = demo_folder(), _shared_picture(draw)
    slugs, parts, photos = [], list[tuple[str, str]](), {}
    for number in range(cars_n):
        car = load_car(folder=folder, by=people[0].user, slug=f"car-{number:02d}")
        tags = _add_parts(car, number, draw, people[0].user)
        parts += tags
        photos[car.slug] = _add_photos(car, number, draw, picture, people[0].user)
        _add_moves(car, draw, people[0].user)
        _widen(car)
        slugs.append(car.slug)
    _write_log(people, slugs, draw)
    return Place(
        sessions=tuple(_session(person) for person in people),
        cars=tuple(slugs),
        parts=tuple(parts[:: max(len(parts) // 4_000, 1)]),
        boxes=tuple((box.name, box.tag) for box in boxes),
        photos=photos,
    )


def _place(add: Any, name: str, kind: str, within: Any) -> Any:
    return add(name=name, kind=kind, within=within, note="", by=None)


def _in_batches(rows: Iterator[Any], model: Any) -> None:
    while batch := list(islice(rows, _BATCH)):
        model._base_manager.bulk_create(batch)


def _add_parts(car: Any, car_number: int, draw: Any, by: Any) -> list[tuple[str, str]]:
    from asfound.record.models import Part  # noqa: PLC0415

    first = car.parts.count()
    sides, words = draw.integers(0, 6, PARTS), draw.integers(0, len(_WORDS), (PARTS, 2))
    boxes = draw.integers(0, BOXES, PARTS)

    def one(n: int) -> Part:
        number = f"{10_000 + n}"
        return Part(
            car=car,
            position=first + n,
            part=number,
            name=f"{_WORDS[words[n, 0]]} {_WORDS[words[n, 1]]} {n}",
            parent=f"{10_000 + n - n % 25}" if n % 25 else "",
            section=_SIDES[sides[n]],
            state=_STATES[n % 5],
            place=f"Box {boxes[n]}" if n % 40 else "",
            kind="part" if n % 25 else "assembly",
            tag=f"L{car_number:02d}{n:04d}",
            safety=n % 30 == 0,
            note="some wear, cleaned and kept in oil paper",
            entered_by=by,
        )

    _in_batches((one(n) for n in range(PARTS)), Part)
    return [(car.slug, f"L{car_number:02d}{n:04d}") for n in range(PARTS)]


def _add_photos(car: Any, car_number: int, draw: Any, picture: Path, by: Any) -> tuple[str, ...]:
    from asfound.record.models import KeptFile, Photo  # noqa: PLC0415

    hashes = [hashlib.sha256(f"{car_number}/{n}".encode()).hexdigest() for n in range(PHOTOS)]
    of_parts, first = draw.integers(0, PARTS, PHOTOS), car.photos.count()

    def one(n: int) -> Photo:
        return Photo(
            car=car,
            position=first + n,
            file=f"photos/{hashes[n]}.jpg",
            sha256=hashes[n],
            subject=f"{10_000 + of_parts[n]}",
            view=_VIEWS[n % 5],
            stage=("before", "during", "after")[n % 3],
            taken_at="2026-03-02T10:00:00",
            by="person-1",
            entered_by=by,
        )

    _in_batches((one(n) for n in range(PHOTOS)), Photo)
    kept = (KeptFile(car=car, path=f"photos/{h}.jpg", sha256=h, size=3_000_000) for h in hashes)
    _in_batches(kept, KeptFile)
    for sha256 in hashes[-WITH_PICTURES:]:
        _link(picture, sha256)
    return tuple(hashes[-WITH_PICTURES:])


def _add_moves(car: Any, draw: Any, by: Any) -> None:
    from asfound.record.models import Observation  # noqa: PLC0415

    boxes = draw.integers(0, BOXES, (PARTS, 2))

    def move(n: int) -> Observation:
        cells = {
            "part": f"{10_000 + n}",
            "from_place": f"Box {boxes[n, 0]}",
            "to_place": f"Box {boxes[n, 1]}",
            "moved_at": "2026-03-02T10:00Z",
            "by": "person-2",
        }
        return Observation(
            car=car, table="moves", subject=cells["part"], position=n, cells=cells, entered_by=by
        )

    def finding(n: int) -> Observation:
        cells = {"subject": f"{10_000 + 7 * n}", "kind": "corrosion", "note": f"light, place {n}"}
        return Observation(
            car=car,
            table="findings",
            subject=cells["subject"],
            position=1_000 + n,
            cells=cells,
            entered_by=by,
        )

    _in_batches((move(n) for n in range(PARTS)), Observation)
    _in_batches((finding(n) for n in range(PARTS // 7)), Observation)


def _widen(car: Any) -> None:
    """Columns that the bulk rows brought, as entering them by hand would have noted."""
    from asfound.record.tables import TABLES  # noqa: PLC0415

    for table in ("parts", "photos", "moves", "findings"):
        car.heads = {**car.heads, table: [column.name for column in TABLES[table].columns]}
    car.save()


def _write_log(people: list[Any], slugs: list[str], draw: Any) -> None:
    """A year of writing: a thousand lines a car."""
    from django.db import transaction  # noqa: PLC0415

    from asfound.record.log import write_entry  # noqa: PLC0415
    from asfound.record.models import Car  # noqa: PLC0415

    cars = {car.slug: car for car in Car.objects.filter(slug__in=slugs)}
    with transaction.atomic():
        for number in range(1_000 * len(slugs)):
            write_entry(
                action=("add moves readings", "change part", "keep photograph")[number % 3],
                by=people[number % PEOPLE].user,
                car=cars[slugs[int(draw.integers(0, len(slugs)))]],
                after={"part": f"{10_000 + number % PARTS}", "to_place": f"Box {number % BOXES}"},
            )


def _shared_picture(draw: Any) -> Path:
    """A small picture of usual size, to which the names of many lead."""
    from asfound.exchange.photographs.kept import pictures_folder  # noqa: PLC0415

    place = pictures_folder() / "shared.jpg"
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(photograph(draw, 480, 360))
    return place


def photograph(draw: Any, wide: int, high: int) -> bytes:
    """JPEG that compresses as a camera's does."""
    rough = draw.integers(0, 255, (high // 8, wide // 8, 3), dtype=np.uint8)
    out = io.BytesIO()
    smooth = Image.fromarray(rough).resize((wide, high), Image.Resampling.BICUBIC)
    smooth.save(out, "JPEG", quality=88)
    return out.getvalue()


def _link(picture: Path, sha256: str) -> None:
    from asfound.exchange.photographs.kept import SMALL_PX  # noqa: PLC0415

    place = picture.parent / sha256[:2] / f"{sha256}-{SMALL_PX}.jpg"
    place.parent.mkdir(exist_ok=True)
    place.unlink(missing_ok=True)
    os.link(picture, place)


def _session(person: Any) -> str:
    """Session of somebody who signed in."""
    from django.contrib.auth import (  # noqa: PLC0415
        BACKEND_SESSION_KEY,
        HASH_SESSION_KEY,
        SESSION_KEY,
    )
    from django.contrib.sessions.backends.db import SessionStore  # noqa: PLC0415

    session = SessionStore()
    session[SESSION_KEY] = str(person.user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.user.get_session_auth_hash()
    session.save()
    return str(session.session_key)
