"""A car folder becomes a checked ``CarFolder``, or every fault in it at once."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

from asfound.exchange.brief import check_brief, check_brief_names
from asfound.exchange.pictures import PHOTO_FOLDER, check_photos
from asfound.exchange.rules import check_across
from asfound.exchange.sheet import read_sheet
from asfound.record.as_files import PACKAGE_FILE
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import PAPER_FOLDER, CarFolder, KeptFile, Sheet
from asfound.record.tables import TABLES

MAX_TABLE_BYTES = 20_000_000
"""A workshop's largest table is some 3,000 parts: a tenth of this."""


def read_folder(path: Path) -> CarFolder:
    """Content of a car folder, checked.

    Parameters
    ----------
    path : Path
        The folder.

    Returns
    -------
    CarFolder
        Tables in the order of the contract, cells as text with a decimal point.

    Raises
    ------
    InputFaultsError
        With every fault of every file; nothing is returned then.
    """
    if not path.is_dir():
        raise _one_fault(str(path), "this is not a folder", "Name the folder that holds car.csv.")
    faults: list[Fault] = []
    sheets = _read_sheets(path, faults)
    brief = check_brief(_read_json(path / "brief.json", faults), faults)
    lift = _read_json(path / "lift.json", faults)
    package = _read_json(path / PACKAGE_FILE, faults)
    if not sheets and brief is None and lift is None and not faults:
        raise _one_fault(
            str(path),
            "the folder holds no table of a car folder",
            "Put at least one table into it, for example car.csv, panels.csv or film.csv.",
        )
    faults += check_across(sheets)
    faults += check_brief_names(brief or {}, sheets)
    files = _kept_files(path)
    faults += check_photos(sheets, files, has_folder=(path / PHOTO_FOLDER).is_dir())
    if faults:
        raise InputFaultsError(tuple(faults))
    return CarFolder(
        sheets=sheets,
        brief=brief,
        lift=lift,
        package={k: v for k, v in (package or {}).items() if k not in ("resources", "profile")},
        files=files,
    )


def _read_sheets(path: Path, faults: list[Fault]) -> dict[str, Sheet]:
    files = {entry.name.lower(): entry for entry in sorted(path.iterdir()) if entry.is_file()}
    sheets = {}
    for table in TABLES.values():
        entry, twin = files.get(table.file), files.get(f"{table.name}.xlsx")
        if entry is not None and twin is not None:
            faults.append(_two_of_one(entry, twin))
        entry = entry or twin
        if entry is None:
            continue
        if entry.stat().st_size > MAX_TABLE_BYTES:
            faults.append(_too_large(entry))
            continue
        sheet, found = read_sheet(entry.read_bytes(), table, file=entry.name)
        faults += found
        if sheet is not None:
            sheets[table.name] = sheet
    return sheets


def _two_of_one(entry: Path, twin: Path) -> Fault:
    return Fault(
        file=twin.name,
        rule=f"{entry.name} is there too, and one table cannot come from two files",
        remedy="Keep the one that holds, and take the other out of the folder.",
    )


def _too_large(entry: Path) -> Fault:
    return Fault(
        file=entry.name,
        rule=f"the file has {entry.stat().st_size / 1e6:,.0f} MB; "
        f"a table may have {MAX_TABLE_BYTES / 1e6:.0f} MB at most",
        remedy="Check that this is the right file; split a survey of many cars by car.",
    )


def _read_json(path: Path, faults: list[Fault]) -> Mapping[str, Any] | None:
    if not path.is_file():
        return None
    if path.stat().st_size > MAX_TABLE_BYTES:
        faults.append(_too_large(path))
        return None
    try:
        content = json.loads(path.read_bytes().decode("utf-8-sig"), parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:
        row = getattr(error, "lineno", 0)
        faults.append(
            Fault(
                file=path.name,
                row=row,
                rule=f"the file is not JSON ({error})",
                remedy="Mend it at that place, or delete the file: it is optional.",
            )
        )
        return None
    if not isinstance(content, dict):
        faults.append(
            Fault(
                file=path.name,
                rule="the file must hold one object between braces",
                remedy='Write for example {"name": "brief of the owner"}.',
            )
        )
        return None
    return content


def _refuse_constant(word: str) -> NoReturn:
    """Refuse what Python reads and RFC 8259 forbids: the words for numbers that are not finite."""
    raise ValueError(f"{word} is no number in JSON")


def _kept_files(path: Path) -> tuple[KeptFile, ...]:
    folders = (path / name for name in sorted((PAPER_FOLDER, PHOTO_FOLDER)))
    return tuple(
        KeptFile(
            path=entry.relative_to(path).as_posix(),
            sha256=_sha256(entry),
            size=entry.stat().st_size,
        )
        for folder in folders
        if folder.is_dir()
        for entry in sorted(folder.rglob("*"))
        if entry.is_file() and not entry.is_symlink()
    )


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _one_fault(file: str, rule: str, remedy: str) -> InputFaultsError:
    return InputFaultsError((Fault(file=file, rule=rule, remedy=remedy),))
