"""The photographs: small pictures of some, a list of more, and how many lie in the folder."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from PIL import Image

from asfound.base import InputError
from asfound.craft.photographs import OF_A_PART, RULES, WHOLE_CAR
from asfound.dossier.account.numbered import ordered
from asfound.dossier.figures import Numbered, marks_svg, photo_findings_svg
from asfound.record.convert.photo_marks import marks_of
from asfound.record.folder import CarFolder, Row

MOST_PICTURES = 60
MOST_LISTED = 200
Picture = Callable[[str, str], bytes | None]
"""Gives a small JPEG of a photograph, by its path in the folder and its hash, or none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """A photograph that is shown: its row, its picture, and layers that lie over it or nothing.

    ``layer`` has the marks that people drew, ``found`` the marks of findings, whose numbers are
    those of the section on the condition.
    """

    row: Row
    jpeg: bytes
    layer: str
    found: str = ""
    numbers: tuple[int, ...] = ()


def pictured_photos(car: CarFolder, picture: Picture | None) -> list[Pictured]:
    """Photographs to show, in the order of the record, at most ``MOST_PICTURES``.

    Parameters
    ----------
    car : CarFolder
    picture : callable or None
        Where the pictures come from; a photograph that it has none of is only listed.

    Notes
    -----
    Where there are more, those that are marked, named by a finding or laid over another come
    first, then one of each subject, view and stage, then the others.
    """
    if picture is None:
        return []
    rows = list(car.sheet("photos"))
    over = findings_over(car)
    shown: dict[int, Pictured] = {}
    for number in sorted(range(len(rows)), key=_by_rank(rows, set(over))):
        if len(shown) == MOST_PICTURES:
            break
        row = rows[number]
        jpeg = picture(row.text("file"), row.text("sha256"))
        if jpeg is not None:
            named = over.get(row.text("file"), [])
            shown[number] = Pictured(
                row=row,
                jpeg=jpeg,
                layer=_layer(row, jpeg),
                found=found_layer(row.text("file"), jpeg, named),
                numbers=tuple(one.number for one in named),
            )
    return [shown[number] for number in sorted(shown)]


def about_photos(car: CarFolder, shown: list[Pictured]) -> dict[str, Any]:
    """Captions of the pictures, a list of the other photographs, and their numbers."""
    rows = list(car.sheet("photos"))
    names = {row.text("part"): row.text("name") for row in car.sheet("parts")}
    files = {one.row.text("file") for one in shown}
    others = [row for row in rows if row.text("file") not in files]
    return {
        "all_n": len(rows),
        "pictures": [
            {
                "layer": bool(one.layer),
                "found": bool(one.found),
                "says": f"{_subject(one.row, names)}: {one.row.text('view')}",
                "under": " · ".join([*_named(one.numbers), *_under(one.row)]),
            }
            for one in shown
        ],
        "listed": [
            [row.text(c) for c in ("file", "subject", "view", "stage", "taken_at", "by")]
            for row in others[:MOST_LISTED]
        ],
        "others_n": len(others),
        "rules": RULES,
        "untouched": list(_not_photographed(car)),
    }


def findings_over(car: CarFolder) -> dict[str, list[Numbered]]:
    """Findings by the files of the photographs that they name, with their numbers."""
    over: dict[str, list[Numbered]] = {}
    for one in ordered(car):
        for file in one.finding.photos:
            over.setdefault(file, []).append(one)
    return over


def found_layer(file: str, jpeg: bytes, over: Sequence[Numbered]) -> str:
    """Marks of the findings that lie over a photograph: of those that name it first."""
    marked = [one for one in over if one.finding.photos[:1] == (file,)]
    with Image.open(io.BytesIO(jpeg)) as image:
        wide, high = image.size
    return photo_findings_svg(marked, width_px=wide, height_px=high, theme="print")


def _named(numbers: tuple[int, ...]) -> list[str]:
    if not numbers:
        return []
    told = ", ".join(map(str, numbers))
    return [f"finding{'' if len(numbers) == 1 else 's'} {told} of the condition"]


def _by_rank(rows: list[Row], named: set[str]) -> Callable[[int], tuple[int, int]]:
    """Order in which photographs are taken up for showing."""
    paired = {row.text("pair") for row in rows if row.text("pair")}
    first: dict[tuple[str, ...], int] = {}
    for number, row in enumerate(rows):
        first.setdefault(tuple(row.text(c) for c in ("subject", "view", "stage")), number)
    alone = set(first.values())

    def rank(number: int) -> tuple[int, int]:
        row = rows[number]
        told = row.text("marks") or row.text("pair") or row.text("file") in (paired | named)
        return (0 if told else 1 if number in alone else 2, number)

    return rank


def _layer(row: Row, jpeg: bytes) -> str:
    try:
        marks = marks_of(row.text("marks"))
    except InputError:  # the table says marks that nobody can draw; the attached table has them
        return ""
    if not marks:
        return ""
    with Image.open(io.BytesIO(jpeg)) as image:
        wide, high = image.size
    return marks_svg(marks, width_px=wide, height_px=high, theme="print")


def photo_words(row: Row, names: Mapping[str, str]) -> str:
    """What a photograph shows, when it was taken, and by which hash it is found."""
    return " · ".join([f"{_subject(row, names)}: {row.text('view')}", *_under(row)])


def _subject(row: Row, names: Mapping[str, str]) -> str:
    subject = row.text("subject")
    return "the car" if subject == WHOLE_CAR else names.get(subject) or subject


def _under(row: Row) -> Iterator[str]:
    yield f"{row.text('stage')} the work"
    yield (
        f"taken {_clock(row.text('taken_at'))} by the camera's clock"
        if row.text("taken_at")
        else "the file does not say when it was taken"
    )
    for column in ("by", "note"):
        if row.text(column):
            yield row.text(column)
    yield f"SHA-256 {row.text('sha256')[:16]}\u00a0…"


def _clock(written: str) -> str:
    """Day and minute of a moment of the record."""
    return written.replace("T", " ")[: len("2026-11-29 09:12")]


def _not_photographed(car: CarFolder) -> Iterator[list[str]]:
    """Views under the published rule, and of how many panels and parts each is missing."""
    things = [row.text("panel") for row in car.sheet("panels")]
    things += [row.text("part") for row in car.sheet("parts") if not row.text("fate")]
    there = {
        (row.text("subject"), row.text("view").strip().casefold(), row.text("stage"))
        for row in car.sheet("photos")
    }
    for view in OF_A_PART:
        missing = sum((name, view.view, view.stage) not in there for name in things)
        yield [f"{view.view}, {view.stage}", f"{missing} of {len(things)}", view.basis]
