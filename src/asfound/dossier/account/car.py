"""The car and its numbers as read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from asfound.dossier.numbers import trimmed
from asfound.record.convert.standing import standing_words
from asfound.record.folder import CarFolder, Row

_CAR = (
    ("marque", "Marque"),
    ("model", "Model"),
    ("body_style", "Body"),
    ("built", "Built"),
    ("registration", "Registration"),
    ("colour_name", "Colour, by name"),
    ("note", "Note"),
)


def about_car(car: CarFolder) -> dict[str, Any]:
    """Car, identifiers, odometer and brief."""
    row = next(iter(car.sheet("car")), None)
    return {
        "name": car.name,
        "invented": car.package.get("invented") is True,
        "facts": [[words, row.text(c)] for c, words in _CAR if row.text(c)] if row else [],
        "identifiers": [_identifier(row) for row in car.sheet("identifiers")],
        "odometer": [
            [r.text("date"), trimmed(r.number("reading")), r.text("unit"), _source(r)]
            for r in car.sheet("odometer")
        ],
        "brief": _brief(car),
    }


def currency_of(car: CarFolder) -> str:
    """Currency of the car; empty where none is given."""
    return next((row.text("currency") for row in car.sheet("car")), "")


def _source(row: Row) -> str:
    """Source of a reading of the odometer, and why it does not count where somebody doubts it."""
    return "; ".join(filter(None, (row.text("source"), standing_words(row))))


def _how(row: Row) -> Iterator[str]:
    """Method and place of a number, its characters, how its plate is held, and its photograph."""
    yield f"{row.text('method')}, {row.text('where')}"
    if row.text("character_style"):
        yield row.text("character_style")
    if row.text("fixing"):
        yield f"fixing: {row.text('fixing')}"
    if row.text("photo"):
        yield "photographed" + (
            " with a scale" if row.flag("scale_in_photo", default=False) else ""
        )


def _identifier(row: Row) -> dict[str, Any]:
    cells = row.cells
    read = ", ".join(filter(None, (cells.get("read_by", ""), cells.get("read_on", ""))))
    return {
        "kind": cells["kind"],
        "read": cells["text_as_read"],
        "how": "; ".join(_how(row)),
        "surface": "; ".join(filter(None, (row.text("surface_note"), standing_words(row)))),
        "when": read,
        "expected": cells.get("expected", ""),
        "source": cells.get("expected_source", ""),
    }


def _brief(car: CarFolder) -> dict[str, Any] | None:
    if car.brief is None:
        return None
    brief = car.brief
    limits = []
    if brief.get("cost_max") is not None:
        money = f"{trimmed(float(brief['cost_max']))} {currency_of(car)}".strip()
        limits.append(["cost at most", money])
    limits += [
        [f"hours of {_words(trade)} at most", trimmed(float(hours))]
        for trade, hours in (brief.get("hours_max") or {}).items()
        if hours is not None
    ]
    floors = [
        [zone, trimmed(float(grade))]
        for zone, grade in (brief.get("min_grade") or {}).items()
        if grade is not None
    ]
    return {
        "name": brief.get("name") or "",
        "note": brief.get("note") or "",
        "limits": limits,
        "floors": floors,
    }


def _words(trade: str) -> str:
    return trade.replace("_", " ")
