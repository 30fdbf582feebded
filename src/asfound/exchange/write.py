"""A car becomes a folder that can be read without this program."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import IO

from asfound.record.as_files import table_files
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, KeptFile


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
