"""The folder that backups are kept in, and what one backup says of itself."""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from asfound.base import InputError
from asfound.record.draft import PREFIX

KIND, VERSION = "asfound backups", 1
MARK, README = "backups.json", "read-me.txt"
TELLS, MANIFEST, TABLES = "backup.json", "manifest-sha256.txt.gz", "tables"
_README = """\
Backups of a record made by asfound.

files/     photographs, dossiers and other files, each once, named by the SHA-256 of its bytes
backups/   a folder a backup, named by its time (UTC):
  backup.json               what it holds, and the head of the log at that moment
  tables/*.jsonl.gz         the database, a file a table, a row a line
  manifest-sha256.txt.gz    the SHA-256 of every file of the backup

To bring one back:      asfound restore THIS-FOLDER
To check it without asfound, from this folder:
  gzip -dc backups/NAME/manifest-sha256.txt.gz | sha256sum --check --quiet
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """What one backup holds.

    Parameters
    ----------
    name : str
        Its folder's, which is the time at which the snapshot was taken.
    program, database : str
        Version of the program and kind of the database it was taken from.
    migrations : tuple of str
        Shape of the tables: every migration that had run.
    rows : mapping of str to int
        Number of rows by table.
    log_lines_n : int
    log_head : str
        Hash of the last line of the log.
    log_broken_line : int or None
        Key of the first line that does not fit the chain, if there is one.
    files_n, files_bytes : int
    new_files_n, new_bytes : int
        Those of them that no earlier backup in the folder held.
    damaged, missing : tuple of str
        Hashes of files on the shelf that are not what their name says, and of files that the
        record names and the shelf does not hold; the backup has neither.
    manifest_sha256 : str
    """

    name: str
    program: str
    database: str
    migrations: tuple[str, ...]
    rows: Mapping[str, int]
    log_lines_n: int
    log_head: str
    log_broken_line: int | None
    files_n: int
    files_bytes: int
    new_files_n: int
    new_bytes: int
    damaged: tuple[str, ...]
    missing: tuple[str, ...]
    manifest_sha256: str

    @property
    def is_whole(self) -> bool:
        """Whether the record was whole when it was backed up."""
        return not self.damaged and not self.missing and self.log_broken_line is None

    def as_json(self) -> dict[str, Any]:
        """Backup as it is written."""
        return {**asdict(self), "rows": dict(self.rows)}


@dataclass(frozen=True, slots=True)
class Store:
    """A folder of backups."""

    folder: Path

    @property
    def files(self) -> Path:
        """Shelf of the files, which all backups share."""
        return self.folder / "files"

    @property
    def backups(self) -> Path:
        """Folder of the backups."""
        return self.folder / "backups"

    def names(self) -> list[str]:
        """Names of the backups that are whole, the oldest first."""
        if not self.backups.is_dir():
            return []
        inside = (path for path in self.backups.iterdir() if not path.name.startswith(PREFIX))
        return sorted(path.name for path in inside if (path / TELLS).is_file())

    def read(self, name: str = "") -> Backup:
        """Backup of that name, or the latest.

        Raises
        ------
        InputError
            If there is none, or what it says of itself cannot be read.
        """
        names = self.names()
        chosen = name or (names[-1] if names else "")
        if chosen not in names:
            raise InputError(
                field="backup", got=chosen or "none", allowed=f"one of {', '.join(names) or 'none'}"
            )
        try:
            told = json.loads((self.backups / chosen / TELLS).read_text(encoding="utf-8"))
            lists = {key: tuple(told[key]) for key in ("migrations", "damaged", "missing")}
            return Backup(**{**told, **lists, "name": chosen})
        except (OSError, ValueError, TypeError, KeyError) as error:
            raise InputError(
                field="backup", got=chosen, allowed=f"whole: {TELLS} cannot be read ({error})"
            ) from error

    def manifest(self, backup: Backup) -> Iterator[tuple[str, Path]]:
        """Hash and place of every file of a backup."""
        with gzip.open(self.backups / backup.name / MANIFEST, "rt", encoding="utf-8") as lines:
            for line in lines:
                sha256, _, path = line.rstrip("\n").partition("  ")
                yield sha256, Path(path)


def open_store(folder: Path, *, make: bool = False) -> Store:
    """Folder of backups.

    Parameters
    ----------
    folder : Path
    make : bool
        Whether it may be begun, in a new or empty folder.

    Raises
    ------
    InputError
        If it is no folder of backups, or of a later kind than this program knows.
    """
    mark = folder / MARK
    if make and not mark.exists() and (not folder.exists() or not any(folder.iterdir())):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        (folder / README).write_text(_README, encoding="utf-8")
        mark.write_text(json.dumps({"kind": KIND, "version": VERSION}) + "\n", encoding="utf-8")
    try:
        told = json.loads(mark.read_text(encoding="utf-8"))
        known = told["kind"] == KIND and told["version"] == VERSION
    except (OSError, ValueError, TypeError, KeyError):
        known = False
    if not known:
        raise InputError(
            field="folder",
            got=str(folder),
            allowed="a folder of backups of this program" + (", or a new one" if make else ""),
            remedy="Name a folder of its own for backups." if make else "",
        )
    return Store(folder)
