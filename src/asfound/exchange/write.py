"""A car becomes a folder that can be read without this program."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any

from asfound.exchange.read import PACKAGE_FILE
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, KeptFile, Sheet
from asfound.record.tables import TABLES, Column, Form

_TYPES = {
    Form.TEXT: "string",
    Form.NUMBER: "number",
    Form.INTEGER: "integer",
    Form.YES_NO: "boolean",
    Form.DATE: "string",
    Form.POLYGON: "string",
}


def write_folder(
    car: CarFolder, path: Path, *, open_file: Callable[[KeptFile], IO[bytes]] | None = None
) -> None:
    """Write the car as a folder, whole or not at all.

    Parameters
    ----------
    car : CarFolder
    path : Path
        Must not exist yet, or be an empty folder.
    open_file : callable, optional
        Gives the bytes of a kept file; needed when the car has any.

    Raises
    ------
    InputFaultsError
        If ``path`` holds something already.
    """
    if path.exists() and (not path.is_dir() or any(path.iterdir())):
        raise InputFaultsError(
            (
                Fault(
                    file=str(path),
                    rule="the place holds something already, and nothing is written over",
                    remedy="Name a new folder.",
                ),
            )
        )
    path.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=path.parent, prefix=".asfound-") as scratch:
        draft = Path(scratch) / "car"
        draft.mkdir()
        for name, data in table_files(car).items():
            (draft / name).write_bytes(data)
        for kept in car.files:
            _copy(kept, draft / kept.path, open_file)
        if path.exists():
            path.rmdir()
        os.replace(draft, path)


def table_files(car: CarFolder) -> dict[str, bytes]:
    """Tables, brief, lift and data package by file name, as their bytes."""
    files = {TABLES[name].file: csv_bytes(sheet) for name, sheet in car.sheets.items()}
    if car.brief is not None:
        files["brief.json"] = json_bytes(car.brief)
    if car.lift is not None:
        files["lift.json"] = json_bytes(car.lift)
    files[PACKAGE_FILE] = json_bytes(_data_package(car))
    return files


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


def _data_package(car: CarFolder) -> dict[str, Any]:
    return {
        "profile": "tabular-data-package",
        **dict(car.package),
        "resources": [_resource(name, sheet) for name, sheet in car.sheets.items()],
    }


def _resource(name: str, sheet: Sheet) -> dict[str, Any]:
    table = TABLES[name]
    schema: dict[str, Any] = {"fields": [_field(table.column(c)) for c in sheet.columns]}
    if table.key:
        schema["primaryKey"] = list(table.key)
    return {
        "name": name.replace("_", "-"),
        "path": table.file,
        "profile": "tabular-data-resource",
        "encoding": "utf-8",
        "schema": schema,
    }


def _field(column: Column) -> dict[str, Any]:
    limits = {"minimum": column.least, "maximum": column.most}
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


def _copy(kept: KeptFile, target: Path, open_file: Callable[[KeptFile], IO[bytes]] | None) -> None:
    if open_file is None:
        raise InputFaultsError(
            (
                Fault(
                    file=kept.path,
                    rule="the bytes of this file are not at hand",
                    remedy="Say where the car's files are kept.",
                ),
            )
        )
    target.parent.mkdir(parents=True, exist_ok=True)
    with open_file(kept) as source, target.open("wb") as sink:
        shutil.copyfileobj(source, sink)
