"""A car's tables as the bytes of files: CSV for sheets, JSON for the rest."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from asfound.record.folder import CarFolder, Sheet
from asfound.record.tables import TABLES, Column, Form, Table

PACKAGE_FILE = "datapackage.json"
_TYPES = {
    Form.TEXT: "string",
    Form.NUMBER: "number",
    Form.INTEGER: "integer",
    Form.YES_NO: "boolean",
    Form.DATE: "string",
    Form.POLYGON: "string",
}


def table_files(car: CarFolder) -> dict[str, bytes]:
    """Tables, brief, lift and data package by file name, as their bytes."""
    files = {TABLES[name].file: csv_bytes(sheet) for name, sheet in car.sheets.items()}
    if car.brief is not None:
        files["brief.json"] = json_bytes(car.brief)
    if car.lift is not None:
        files["lift.json"] = json_bytes(car.lift)
    files[PACKAGE_FILE] = json_bytes(_data_package(car))
    return files


def for_owner(car: CarFolder) -> CarFolder:
    """The car without tables and columns that are the workshop's alone, and papers they name."""
    told = {
        name: _open_columns(TABLES[name], sheet)
        for name, sheet in car.sheets.items()
        if not TABLES[name].of_workshop
    }
    kept_back = _papers(car.sheets) - _papers(told)
    files = tuple(file for file in car.files if file.path not in kept_back)
    return replace(car, sheets=told, files=files)


def _open_columns(table: Table, sheet: Sheet) -> Sheet:
    kept = [i for i, name in enumerate(sheet.columns) if not table.column(name).of_workshop]
    if len(kept) == len(sheet.columns):
        return sheet
    return Sheet(
        columns=tuple(sheet.columns[i] for i in kept),
        rows=tuple(tuple(row[i] for i in kept) for row in sheet.rows),
    )


def _papers(sheets: Mapping[str, Sheet]) -> set[str]:
    rows = (row for sheet in sheets.values() for row in sheet)
    return {path.strip() for row in rows for path in row.text("paper").split(";")} - {""}


def csv_bytes(sheet: Sheet) -> bytes:
    """Sheet as CSV: UTF-8, comma, point, lines that end as RFC 4180 has them."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(sheet.columns)
    writer.writerows(sheet.rows)
    return text.getvalue().encode()


def json_bytes(content: Any) -> bytes:
    """JSON for people: indented, one line feed at the end."""
    return (json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode()


def canonical_json(content: Any) -> bytes:
    """JSON for hashes, with sorted keys and no idle space: one content, one text."""
    return json.dumps(
        content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    ).encode()


def _data_package(car: CarFolder) -> dict[str, Any]:
    return {
        "profile": "tabular-data-package",
        **dict(car.package),
        "resources": [resource(TABLES[name], sheet) for name, sheet in car.sheets.items()],
    }


def resource(table: Table, sheet: Sheet) -> dict[str, Any]:
    """What a data package tells of a table: its columns, their types and rules."""
    schema: dict[str, Any] = {"fields": [_field(table.column(c)) for c in sheet.columns]}
    if table.key:
        schema["primaryKey"] = list(table.key)
    return {
        "name": table.name.replace("_", "-"),
        "path": table.file,
        "profile": "tabular-data-resource",
        "encoding": "utf-8",
        "schema": schema,
    }


def _field(column: Column) -> dict[str, Any]:
    limits = {
        "minimum": column.least,
        "maximum": column.most,
        "exclusiveMinimum": column.above,
        "exclusiveMaximum": column.below,
    }
    constraints: dict[str, Any] = {k: v for k, v in limits.items() if v is not None}
    if not column.blank:
        constraints["required"] = True
    if column.words:
        constraints["enum"] = list(column.words)
    described: dict[str, Any] = {"name": column.name, "type": _TYPES[column.form]}
    if column.form is Form.YES_NO:
        described |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if column.form in (Form.DATE, Form.POLYGON):
        described["description"] = str(column.form)
    if column.unit:
        described["unit"] = column.unit
    if constraints:
        described["constraints"] = constraints
    return described
