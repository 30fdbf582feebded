"""Parts that were out at others, and original material of other cars that went into this one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from asfound.dossier.numbers import MISSING
from asfound.record.convert.salvage_used import MaterialUse
from asfound.record.folder import CarFolder, Row


def about_supplies(car: CarFolder, material: Sequence[MaterialUse]) -> dict[str, Any] | None:
    """Errands and material for setting; nothing where there is neither.

    Parameters
    ----------
    car : CarFolder
    material : sequence of MaterialUse
        From the workshop's salvage stock, which is no part of the car's folder.
    """
    errands = list(car.sheet("errands"))
    if not errands and not material:
        return None
    names = {row.text("part"): row.text("name") for row in car.sheet("parts")}
    return {
        "errands": [_errand(row, names) for row in errands],
        "out_n": sum(not row.text("back_on") for row in errands),
        "material": [_material(one, names) for one in material],
        "reserved_n": sum(one.what == "reserved" for one in material),
    }


def _errand(row: Row, names: dict[str, str]) -> list[str]:
    papers = len([name for name in row.text("paper").split(";") if name.strip()])
    return [
        _named(row.text("part"), names),
        row.text("work"),
        row.text("to"),
        row.text("sent_on"),
        row.text("back_on") or "out",
        str(papers) if papers else MISSING,
    ]


def _material(one: MaterialUse, names: dict[str, str]) -> list[str]:
    origin = ", ".join(filter(None, (one.from_car, one.made))) or "not known"
    goes_to = _named(one.part, names) if one.part else one.need or MISSING
    return [
        f"{one.number} {one.name}",
        origin,
        one.much,
        goes_to,
        one.what,
        " ".join(filter(None, (one.day, one.by))),
    ]


def _named(part: str, names: dict[str, str]) -> str:
    """Number of a part with its name, where the number does not say it already."""
    name = names.get(part, "")
    return f"{part} {name}" if name and name.casefold() != part.casefold() else part
