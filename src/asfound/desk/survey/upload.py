"""A file of film readings from a gauge or a spreadsheet: taken apart, matched, checked."""

from __future__ import annotations

import csv
import math
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from asfound.exchange import check_written
from asfound.exchange.dialect import SEPARATORS, Written, decode, take_apart
from asfound.exchange.rules import SPOT_CIRCLE_MM, check_across
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.tables import TABLES

FILM = TABLES["film"]

_SEPARATOR_WORDS = {",": "comma", ";": "semicolon", "\t": "tab"}

_HINTS = {
    "x_mm": ("x",),
    "y_mm": ("y",),
    "panel": ("panel", "part", "piece", "area", "bauteil", "teil", "blech", "pannello", "panneau"),
    "spot": ("spot", "point", "place", "position", "messpunkt", "punkt", "messstelle", "stelle"),
    "thickness_um": ("thickness", "film", "reading", "value", "schichtdicke", "dicke", "epaisseur"),
    "gauge": ("gauge", "instrument", "probe", "device", "geraet", "gerat", "sonde"),
    "taken_at": ("taken", "time", "date", "when", "zeit", "datum"),
    "by": ("by", "person", "who", "operator", "pruefer", "prufer"),
}
"""Words that gauges and spreadsheets write at the head of a column (common practice, no source).

The places come first, so that "position x" is not taken for the name of a spot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What an upload would write: the sheet if it has no fault, and the faults if it has."""

    sheet: Sheet | None
    faults: tuple[Fault, ...]


def take_in(data: bytes, *, file: str) -> Written | Fault:
    """Head and rows of the file; the separator is the one that makes most columns."""
    text = decode(data, file=file)
    if isinstance(text, Fault):
        return text
    return take_apart(text, file=file, known=_all_cells_of_head(text))


def _all_cells_of_head(text: str) -> frozenset[str]:
    first = next((line for line in text.splitlines() if line.strip()), "")
    heads = (next(csv.reader([first], delimiter=mark), []) for mark in SEPARATORS)
    return frozenset(cell.strip().lower() for head in heads for cell in head if cell.strip())


def dialect_words(written: Written) -> str:
    """How the file parts its columns and writes its decimals."""
    cells = [cell for _, row in written.rows[:200] for cell in row]
    has_comma = any(re.fullmatch(r"[+-]?\d+,\d+", cell) for cell in cells)
    mark = "comma" if has_comma else "point"
    return f"{_SEPARATOR_WORDS[written.separator]} between the columns, decimal {mark}"


def guess(head: tuple[str, ...]) -> dict[str, int]:
    """Likely place of each declared column; no place is given twice."""
    found: dict[str, int] = {}
    plain = [_plain(cell) for cell in head]
    for fits in (_is_name, _is_hint, _has_hint):
        for column in _HINTS:
            if column not in found:
                places = (i for i in range(len(plain)) if i not in found.values())
                place = next((i for i in places if fits(plain[i], column)), None)
                if place is not None:
                    found[column] = place
    return found


def _plain(cell: str) -> str:
    """Cell in small letters without accents, units in brackets or marks."""
    bare = unicodedata.normalize("NFKD", re.sub(r"[\[(].*?[\])]", " ", cell.lower()))
    return re.sub(r"[^a-z0-9]+", " ", bare.encode("ascii", "ignore").decode()).strip()


def _is_name(cell: str, column: str) -> bool:
    return cell == column.replace("_", " ")


def _is_hint(cell: str, column: str) -> bool:
    return cell in _HINTS[column]


def _has_hint(cell: str, column: str) -> bool:
    return bool(set(cell.split()) & set(_HINTS[column]))


def check(
    written: Written, matching: Mapping[str, int], *, one_panel: str, car: CarFolder, file: str
) -> Checked:
    """Rows under their declared names, with every fault that the car folder's rules find.

    ``one_panel`` names the panel of all rows where the file has no column for it.
    """
    sheet, found = check_written(_renamed(written, matching, one_panel), FILM, file=file)
    faults = _in_their_words(found, written, matching)
    if sheet is not None:
        faults += _faults_across(sheet, [number for number, _ in written.rows], car, file)
        faults.sort(key=lambda fault: fault.row)
    return Checked(sheet=None if faults else sheet, faults=tuple(faults))


def _faults_across(sheet: Sheet, numbers: list[int], car: CarFolder, file: str) -> list[Fault]:
    """What shows only beside other rows and what the record has already."""
    drawn = {"panels": car.sheet("panels")} if "panels" in car.sheets else {}
    across = check_across({**drawn, "film": sheet})
    faults = [replace(f, file=file, row=numbers[f.row - 2]) for f in across]
    faults += _moved_spots(sheet, numbers, car, file)
    if not len(sheet):
        rule = "the file has a head and no row"
        faults.append(Fault(file=file, rule=rule, remedy="Export it once more."))
    return faults


def _renamed(written: Written, matching: Mapping[str, int], one_panel: str) -> Written:
    names = [column.name for column in FILM.columns if column.name in matching]
    places = [matching[name] for name in names]
    rows = [
        (number, tuple(row[i] if i < len(row) else "" for i in places))
        for number, row in written.rows
    ]
    if one_panel and "panel" not in matching:
        names.insert(0, "panel")
        rows = [(number, (one_panel, *row)) for number, row in rows]
    return replace(written, head=tuple(names), rows=tuple(rows))


def _in_their_words(
    faults: list[Fault], written: Written, matching: Mapping[str, int]
) -> list[Fault]:
    """Faults that name the column as the file does."""
    return [
        replace(fault, column=written.head[matching[fault.column]])
        if fault.column in matching
        else fault
        for fault in faults
    ]


def _moved_spots(sheet: Sheet, numbers: list[int], car: CarFolder, file: str) -> Iterator[Fault]:
    """A spot that the record has already must be the same place in the file."""
    known = {
        (row.text("panel"), row.text("spot")): (row.number("x_mm"), row.number("y_mm"))
        for row in car.sheet("film")
    }
    for number, row in zip(numbers, sheet, strict=True):
        spot = (row.text("panel"), row.text("spot"))
        try:
            here = (row.number("x_mm"), row.number("y_mm"))
        except (KeyError, ValueError):
            continue  # the cell's own fault is already told
        if spot in known and math.dist(here, known[spot]) > SPOT_CIRCLE_MM:
            there = "{:g}, {:g}".format(*known[spot])
            yield Fault(
                file=file,
                row=number,
                column="panel and spot",
                value=", ".join(spot),
                rule=f"the record has this spot at {there} mm, more than "
                f"{SPOT_CIRCLE_MM:.0f} mm away",
                remedy="Give the spot another name, or correct its place.",
            )


def twins(sheet: Sheet, car: CarFolder) -> int:
    """Count the rows that the record has already, the same in place and thickness."""
    known = {_essence(row) for row in car.sheet("film")}
    return sum(_essence(row) in known for row in sheet)


def _essence(row: Row) -> tuple[str, str, float, float, float]:
    numbers = (row.number(name) for name in ("x_mm", "y_mm", "thickness_um"))
    return (row.text("panel"), row.text("spot"), *numbers)  # type: ignore[return-value]  # five
