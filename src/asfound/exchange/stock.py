"""The salvage stock as open tables: given away whole, taken in whole or not at all."""

from __future__ import annotations

import io
import tempfile
import zipfile
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC
from pathlib import Path
from typing import IO, Any

from django.db import transaction

from asfound.base import InputError
from asfound.exchange.archive import unpack_folder
from asfound.exchange.read import MAX_TABLE_BYTES
from asfound.exchange.sheet import read_sheet
from asfound.record.actions.salvage import add_piece
from asfound.record.actions.salvage_use import take_of_piece
from asfound.record.as_files import PACKAGE_FILE, csv_bytes, json_bytes, resource
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.salvage_rows import ROW_COLUMNS, cells_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import Row, Sheet
from asfound.record.models import Car, SalvagePhoto, SalvagePiece, SalvageRow, SalvageUse
from asfound.record.tables.salvage import STOCK_TABLES

_ZIP = b"PK\x03\x04"


def stock_sheet(name: str) -> Sheet:
    """Table of the stock with every piece that was not withdrawn.

    Parameters
    ----------
    name : str
        ``salvage``, ``salvage_defects`` or ``salvage_uses``.
    """
    columns = tuple(column.name for column in STOCK_TABLES[name].columns)
    rows = {"salvage": _pieces, "salvage_defects": _defects, "salvage_uses": _uses}[name]()
    return Sheet(
        columns=columns, rows=tuple(tuple(row.get(c, "") for c in columns) for row in rows)
    )


def stock_zip() -> bytes:
    """The three tables with a data package that tells their columns and rules.

    Photographs are named by their hash and stay on the shelf.
    """
    sheets = {name: stock_sheet(name) for name in STOCK_TABLES}
    package = {
        "profile": "tabular-data-package",
        "name": "salvage",
        "resources": [resource(STOCK_TABLES[name], sheet) for name, sheet in sheets.items()],
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, sheet in sheets.items():
            archive.writestr(STOCK_TABLES[name].file, csv_bytes(sheet))
        archive.writestr(PACKAGE_FILE, json_bytes(package))
    return out.getvalue()


def load_stock(stream: IO[bytes], *, file: str, by: Any) -> int:
    """Pieces entered from a table, or from the three tables in a zip file; their number.

    Parameters
    ----------
    stream : binary stream
        Seekable.
    file : str
        As the person knows it.
    by : user or None

    Raises
    ------
    InputFaultsError
        With every fault that the tables show; nothing is written then.
    """
    head = stream.read(len(_ZIP))
    stream.seek(0)
    if head == _ZIP and not file.lower().endswith(".xlsx"):
        with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
            folder = unpack_folder(stream, Path(scratch), file=file)
            data = {
                name: (folder / table.file).read_bytes()
                for name, table in STOCK_TABLES.items()
                if (folder / table.file).is_file()
            }
        files = {name: STOCK_TABLES[name].file for name in data}
    else:
        data, files = {"salvage": stream.read(MAX_TABLE_BYTES + 1)}, {"salvage": file}
    sheets = _read(data, files)
    with transaction.atomic():
        return _write(sheets, files, by)


def _read(data: Mapping[str, bytes], files: Mapping[str, str]) -> dict[str, Sheet]:
    faults: list[Fault] = []
    sheets: dict[str, Sheet] = {}
    if "salvage" not in data:
        rule = "the file holds no salvage.csv"
        faults.append(Fault(file="salvage.csv", rule=rule, remedy="Add the table of the pieces."))
    for name, content in data.items():
        if len(content) > MAX_TABLE_BYTES:
            most = MAX_TABLE_BYTES / 1e6
            rule = f"a table may have {most:.0f} MB at most"
            faults.append(Fault(file=files[name], rule=rule, remedy="Split it."))
            continue
        sheet, found = read_sheet(content, STOCK_TABLES[name], file=files[name])
        faults += found
        if sheet is not None:
            sheets[name] = sheet
    if not faults:
        faults += _unknown(sheets, files)
    if faults:
        raise InputFaultsError(tuple(faults))
    return sheets


def _unknown(sheets: Mapping[str, Sheet], files: Mapping[str, str]) -> Iterable[Fault]:
    """Numbers that are taken, numbers that no piece of the table has, cars that are not there."""
    numbers = {row.text("number") for row in sheets["salvage"]} - {""}
    taken = SalvagePiece.objects.filter(number__in=numbers).values_list("number", flat=True)
    cars = set(Car.objects.values_list("slug", flat=True)) | {""}
    for row in sheets["salvage"]:
        if row.text("number") in set(taken):
            yield _fault(files["salvage"], row, "number", "the stock has a piece of this number")
    for name in ("salvage_defects", "salvage_uses"):
        for row in sheets.get(name, Sheet(columns=())):
            if row.text("number") not in numbers:
                yield _fault(files[name], row, "number", "salvage.csv has no such piece")
            if row.text("car") not in cars:
                yield _fault(files[name], row, "car", "the record has no such car")


def _write(sheets: Mapping[str, Sheet], files: Mapping[str, str], by: Any) -> int:
    flaws: dict[str, list[dict[str, str]]] = {}
    for row in sheets.get("salvage_defects", Sheet(columns=())):
        told = {name: row.text(name) for name in ("kind", "outline_wkt")}
        flaws.setdefault(row.text("number"), []).append(told)
    pieces: dict[str, SalvagePiece] = {}
    for row in sheets["salvage"]:
        number = row.text("number")
        pieces[number] = _at(row, files["salvage"], lambda: _add(row, flaws, by))  # noqa: B023 - called at once
    for row in sheets.get("salvage_uses", Sheet(columns=())):
        _at(row, files["salvage_uses"], lambda: _take(row, pieces, by))  # noqa: B023 - called at once
    return len(sheets["salvage"])


def _add(row: Row, flaws: Mapping[str, list[dict[str, str]]], by: Any) -> SalvagePiece:
    number = row.text("number")
    return add_piece(
        cells={name: row.text(name) for name in ROW_COLUMNS},
        defects=flaws.get(number, ()) if number else (),
        number=number,
        tag=row.text("tag"),
        by=by,
    )


def _take(row: Row, pieces: Mapping[str, SalvagePiece], by: Any) -> SalvageUse:
    who = ", ".join(filter(None, (row.text("by"), row.text("at"))))
    note = " ".join(filter(None, (row.text("note"), f"({who})" if who else "")))
    count = row.text("count")
    return take_of_piece(
        piece=pieces[row.text("number")],
        what=row.text("what"),
        car=Car.objects.filter(slug=row.text("car")).first() if row.text("car") else None,
        need=row.text("need"),
        part=row.text("part"),
        count=int(float(count)) if count else None,
        outline_wkt=row.text("outline_wkt"),
        note=note,
        by=by,
    )


def _at(row: Row, file: str, write: Callable[[], Any]) -> Any:
    """What was written, or the refusal as a fault of that row."""
    try:
        return write()
    except InputError as error:
        fault = Fault(
            file=file,
            row=row.number_in_file,
            column=error.field,
            value=str(error.got),
            rule=f"it must be {error.allowed}",
            remedy=error.remedy or "Correct the row.",
        )
        raise InputFaultsError((fault,)) from error


def _fault(file: str, row: Row, column: str, rule: str) -> Fault:
    return cell_fault(file, row, column, rule, "Correct the cell, or take the row out.")


def _rows() -> Iterable[SalvageRow]:
    current = SalvageRow.objects.current().select_related("piece")
    return current.order_by("piece__pk").iterator(chunk_size=500)


def _pieces() -> Iterable[dict[str, str]]:
    photos: dict[int, list[str]] = {}
    for photo in SalvagePhoto.objects.current():
        photos.setdefault(photo.piece_id, []).append(str(photo))
    for row in _rows():
        yield {
            **cells_of(row),
            "number": row.piece.number,
            "tag": row.piece.tag,
            "photo": ";".join(photos.get(row.piece_id, ())),
        }


def _defects() -> Iterable[dict[str, str]]:
    for row in _rows():
        for defect in row.defects:
            yield {"number": row.piece.number, **defect}


def _uses() -> Iterable[dict[str, str]]:
    there = SalvageRow.objects.current().values("piece")
    uses = SalvageUse.objects.current().filter(piece__in=there)
    for use in uses.select_related("piece", "car", "entered_by"):
        at = use.entered_at.astimezone(UTC)
        yield {
            "number": use.piece.number,
            "what": use.what,
            "car": "" if use.car is None else use.car.slug,
            "need": use.need,
            "part": use.part,
            "count": "" if use.count is None else str(use.count),
            "outline_wkt": use.outline_wkt,
            "by": "" if use.entered_by is None else use.entered_by.get_username(),
            "at": f"{at:%Y-%m-%dT%H:%MZ}",
            "note": use.note,
        }
