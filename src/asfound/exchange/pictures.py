"""The list of photographs against the photographs that are there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from asfound.record.faults import Fault
from asfound.record.folder import KeptFile, Sheet

PHOTO_FOLDER = "photos"
TABLE = "photos.csv"


def check_photos(
    sheets: Mapping[str, Sheet], files: tuple[KeptFile, ...], *, has_folder: bool
) -> Iterator[Fault]:
    """Faults of rows whose photograph is not there, or is another one than was listed.

    The tables may travel without the photographs, so nothing is compared where there is no
    folder of them. A photograph without a row is no fault: it is kept.
    """
    if not has_folder:
        return
    there = {kept.path: kept for kept in files}
    for row in sheets.get("photos", Sheet(columns=())):
        file = row.text("file").replace("\\", "/")
        kept = there.get(file) or there.get(f"{PHOTO_FOLDER}/{file}")
        if kept is None:
            yield _missing(row.number_in_file, row.text("file"), there)
        elif row.text("sha256").lower() != kept.sha256:
            yield _other(row.number_in_file, row.text("sha256"), kept)


def _missing(row: int, file: str, there: Mapping[str, KeptFile]) -> Fault:
    name = file.rsplit("/", 1)[-1].lower()
    alike = next((path for path in there if path.rsplit("/", 1)[-1].lower() == name), "")
    remedy = f"Put the photograph into {PHOTO_FOLDER}/, or delete the row."
    if alike:
        remedy = f"Write {alike}, or put the photograph where the row says."
    return Fault(
        file=TABLE,
        row=row,
        column="file",
        value=file,
        rule=f"{PHOTO_FOLDER}/ holds no such file",
        remedy=remedy,
    )


def _other(row: int, told: str, kept: KeptFile) -> Fault:
    return Fault(
        file=TABLE,
        row=row,
        column="sha256",
        value=told,
        rule=f"{kept.path} is not the photograph that was listed: its SHA-256 is {kept.sha256}",
        remedy="Put back the photograph that was listed; only if the list is wrong, correct it.",
    )
