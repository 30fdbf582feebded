"""What a card offers to touch or while one types: what was used on the car, then the usual."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models.fields.json import KT

from asfound.record.models import Car, Observation

MET = 40
CHIPS = 6
ROWS_READ = 200
USUAL = {"film": "µm", "torque": "Nm", "clearance": "mm", "gap": "mm", "pressure": "bar"}
KINDS = (*USUAL, "end float", "resistance", "depth")
RESULT_UNITS = ("µm", "Nm", "mm", "bar", "Ω", "V", "°C")
UNITS = ("g", "ml", "m", "dm²", "pieces")


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """Words to touch, and the fields that they fill, as JSON."""

    words: str
    fills: str


def material_chips(car: Car) -> list[Chip]:
    """Materials with their batches, those used last first."""
    told = [
        {name: cells.get(name, "") for name in ("material", "batch", "unit")}
        for cells in _cells(car, "materials_used")
    ]
    chips = [_chip(f"{one['material']}, {one['batch']}", one) for one in told if one["material"]]
    return list(dict.fromkeys(chips))[:CHIPS]


def result_chips(car: Car) -> list[Chip]:
    """Kinds of results, each with its unit and the tool that measured it last."""
    found: dict[str, Chip] = {}
    for cells in _cells(car, "results"):
        told = {name: cells.get(name, "") for name in ("kind", "unit", "tool")}
        found.setdefault(told["kind"], _chip(told["kind"], told))
    for kind, unit in USUAL.items():
        found.setdefault(kind, _chip(kind, {"kind": kind, "unit": unit}))
    return list(found.values())[:CHIPS]


def lists_of(car: Car) -> dict[str, list[str]]:
    """Words offered while one types."""
    return {
        "materials": _met(car, "materials_used", "material"),
        "units": _with(_met(car, "materials_used", "unit"), UNITS),
        "result-kinds": _with(_met(car, "results", "kind"), KINDS),
        "result-units": _with(_met(car, "results", "unit"), RESULT_UNITS),
        "tools": _met(car, "results", "tool"),
    }


def _chip(words: str, fills: dict[str, str]) -> Chip:
    return Chip(words=words, fills=json.dumps(fills, ensure_ascii=False))


def _cells(car: Car, table: str) -> Iterator[dict[str, str]]:
    rows = Observation.objects.current().filter(car=car, table=table).order_by("-pk")
    yield from rows.values_list("cells", flat=True)[:ROWS_READ]


def _met(car: Car, table: str, column: str) -> list[str]:
    rows = Observation.objects.current().filter(car=car, table=table).order_by("-pk")
    return list(dict.fromkeys(w for w in rows.values_list(KT(f"cells__{column}"), flat=True) if w))[
        :MET
    ]


def _with(met: list[str], usual: tuple[str, ...]) -> list[str]:
    return list(dict.fromkeys([*met, *usual]))
