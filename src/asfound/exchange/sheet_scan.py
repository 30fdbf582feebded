"""What a worksheet's XML tells beyond its values: its extent, merged cells, formulas not worked."""

from __future__ import annotations

import zipfile
from dataclasses import dataclass, field
from typing import IO
from xml.etree import ElementTree  # check_package refuses document types, and expat limits growth

from openpyxl.packaging.relationship import get_dependents, get_rels_path
from openpyxl.utils.cell import coordinate_to_tuple, range_boundaries

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_FORMULA = f"{_MAIN}f"

Bounds = tuple[int, int, int, int]
"""First column and row, last column and row, counted from 1."""


@dataclass(slots=True, kw_only=True)
class Scan:
    """A worksheet as scanned; rows and columns count from 1."""

    last_row: int = 0
    last_column: int = 0
    not_worked: dict[tuple[int, int], str] = field(default_factory=dict)
    merged: list[Bounds] = field(default_factory=list)


def parts_of_sheets(archive: zipfile.ZipFile) -> dict[str, str]:
    """Name of the part that holds each sheet, in the order of the workbook.

    Raises
    ------
    ValueError
        If the workbook is not written in the namespace that ordinary ones have.
    """
    roots = get_dependents(archive, "_rels/.rels")
    book = next(root.target for root in roots if root.Type.endswith("/officeDocument"))
    relations = get_dependents(archive, get_rels_path(book))  # type: ignore[no-untyped-call]  # as shipped
    targets = {found.id: found.target for found in relations}
    tree = ElementTree.fromstring(archive.read(book))  # noqa: S314  # no document type is in it
    if tree.tag != f"{_MAIN}workbook":
        raise ValueError("it is of the strict kind of ISO/IEC 29500, which is not read here")
    sheets = tree.iter(f"{_MAIN}sheet")
    return {sheet.get("name", ""): targets[sheet.get(_RELATION, "")] for sheet in sheets}


def scan_sheet(part: IO[bytes]) -> Scan:
    """Extent of the cells that hold something, merged ranges, and formulas without a value."""
    scan = Scan()
    row = column = 0
    for event, element in ElementTree.iterparse(part, events=("start", "end")):  # noqa: S314  # see above
        if event == "start":
            if element.tag == f"{_MAIN}row":
                row, column = int(element.get("r") or row + 1), 0
        elif element.tag == f"{_MAIN}c":
            at = element.get("r")
            row, column = coordinate_to_tuple(at) if at else (row, column + 1)
            _note(element, row, column, scan)
            element.clear()
        elif element.tag == f"{_MAIN}row":
            element.clear()
        elif element.tag == f"{_MAIN}mergeCell":
            scan.merged.append(_bounds(element.get("ref", "")))
    return scan


def _note(cell: ElementTree.Element, row: int, column: int, scan: Scan) -> None:
    """A formula that gave an empty text has a value of the type ``str``; others have digits."""
    if len(cell) == 0:
        return
    scan.last_row, scan.last_column = max(scan.last_row, row), max(scan.last_column, column)
    formula = cell.find(_FORMULA)
    value = cell.find(f"{_MAIN}v")
    has_value = value is not None and (bool(value.text) or cell.get("t") == "str")
    if formula is not None and not has_value:
        scan.not_worked[row, column] = f"={formula.text or ''}"


def _bounds(reference: str) -> Bounds:
    first_column, first_row, last_column, last_row = range_boundaries(reference)
    if None in (first_column, first_row, last_column, last_row):
        raise ValueError(f"{reference} is no range of cells")
    return first_column, first_row, last_column, last_row  # type: ignore[return-value]  # none is None
