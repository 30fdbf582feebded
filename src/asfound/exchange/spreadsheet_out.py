"""Tables as a spreadsheet (.xlsx), numbers as numbers with the decimals they were written with."""

from __future__ import annotations

import io
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from asfound.record.folder import Sheet

_WIDEST = 44
_NUMBERS = frozenset(
    {
        *("amount", "tax_percent", "net", "charged_net", "total"),
        *("jobs", "people", "estimate_hours", "actual_hours", "ratio", "beyond_estimate_cost"),
        *("order", "wave", "risk", "hours", "mass_kg"),
        *("factor", "factor_low", "factor_high", "job_low", "job_high"),
    }
)
"""Columns whose cells are numbers; a number of a document may look like one and is none."""


def workbook_bytes(sheets: Mapping[str, Sheet]) -> bytes:
    """Workbook with one sheet a table (ISO/IEC 29500-1).

    Cells are text unless their column holds numbers, so that no cell is ever a formula.
    """
    from openpyxl import Workbook  # noqa: PLC0415 - a third of a second
    from openpyxl.styles import Font  # noqa: PLC0415
    from openpyxl.utils import get_column_letter  # noqa: PLC0415

    book = Workbook()
    for empty in book.worksheets:
        book.remove(empty)
    for title, sheet in sheets.items():
        page = book.create_sheet(title[:31])
        page.freeze_panes = "A2"
        for place, name in enumerate(sheet.columns, start=1):
            page.cell(1, place, name).font = Font(bold=True)
            longest = max((len(row[place - 1]) for row in sheet.rows), default=0)
            width = min(max(longest, len(name)) + 2, _WIDEST)
            page.column_dimensions[get_column_letter(place)].width = width
        for number, cells in enumerate(sheet.rows, start=2):
            for place, (name, text) in enumerate(zip(sheet.columns, cells, strict=True), start=1):
                _write(page.cell(number, place), text, is_number=name in _NUMBERS)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _write(cell: object, text: str, *, is_number: bool) -> None:
    value = _number(text) if is_number else None
    if value is None:
        cell.value = text or None  # type: ignore[attr-defined]  # of openpyxl, which types it loosely
        if text:
            cell.data_type = "s"  # type: ignore[attr-defined]
        return
    cell.value = value  # type: ignore[attr-defined]
    digits = max(-int(value.as_tuple().exponent), 0)
    cell.number_format = "0" + ("." + "0" * digits if digits else "")  # type: ignore[attr-defined]


def _number(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None
