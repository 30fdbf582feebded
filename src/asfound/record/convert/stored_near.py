"""A car folder that reads no more of a large car than one part or panel of it asks for."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Mapping
from dataclasses import replace

from asfound.record.convert.stored import folder_of
from asfound.record.convert.stored_cells import cell_of
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car
from asfound.record.tables import TABLES


def folder_near(car: Car, subject: str) -> CarFolder:
    """Car folder in which ``parts`` and ``findings`` are those of one part or panel alone.

    Every other table is read when it is first asked for, as :func:`folder_of` has them.
    """
    folder = folder_of(car)
    # A chain only looks up here; nothing is ever written into its maps.
    sheets: Mapping[str, Sheet] = ChainMap(_near(car, subject), folder.sheets)  # type: ignore[arg-type]
    return replace(folder, sheets=sheets)


def _near(car: Car, subject: str) -> dict[str, Sheet]:
    parts = tuple(car.heads.get("parts", ()))
    findings = tuple(car.heads.get("findings", ()))
    rows = car.observations.current().filter(table="findings", subject=subject)
    cells: list[Mapping[str, str]] = list(rows.values_list("cells", flat=True))
    return {
        "parts": Sheet(
            columns=parts,
            rows=tuple(
                tuple(cell_of(part, column, TABLES["parts"]) for column in parts)
                for part in car.parts.filter(part=subject)
            ),
        ),
        "findings": Sheet(
            columns=findings,
            rows=tuple(tuple(row.get(column, "") for column in findings) for row in cells),
        ),
    }
