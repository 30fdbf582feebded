"""A car as its folder tells it: the tables as text, the brief, and what is kept unread."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

PAPER_FOLDER = "papers"
"""Where the folder holds papers of errands, beside its photographs."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a sheet, read by column name.

    Cells were checked and their numbers given a decimal point when the sheet was read, so that
    reading a cell here cannot fail on its content.
    """

    cells: Mapping[str, str]
    number_in_file: int

    def text(self, column: str) -> str:
        """Content of the cell; empty where the column does not exist."""
        return self.cells.get(column, "")

    def number(self, column: str, *, default: float | None = None) -> float:
        """Content of the cell as a number; ``default`` where it is empty.

        Raises
        ------
        KeyError
            If the cell is empty and there is no default.
        ValueError
            If it holds no number, which a checked table never does.
        """
        text = self.text(column)
        if text:
            return float(text)
        if default is None:
            raise KeyError(f"row {self.number_in_file} has no {column}")
        return default

    def flag(self, column: str, *, default: bool) -> bool:
        """Content of a yes-or-no cell; ``default`` where it is empty."""
        text = self.text(column)
        return text == "yes" if text else default


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One table: column names in the order met, and rows of as many cells.

    ``numbers`` are those of the rows in the file they came from, for messages alone; without
    them the rows follow each other below the head.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...] = ()
    numbers: tuple[int, ...] = field(default=(), compare=False, repr=False)

    def __iter__(self) -> Iterator[Row]:
        """Rows in the order of the file."""
        numbers = self.numbers or range(2, len(self.rows) + 2)
        for number, cells in zip(numbers, self.rows, strict=True):
            yield Row(dict(zip(self.columns, cells, strict=True)), number)

    def __len__(self) -> int:
        """Count the rows."""
        return len(self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFile:
    """A file of the folder that no table describes, known by its content."""

    path: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CarFolder:
    """Everything the program knows of one car.

    Parameters
    ----------
    sheets : mapping of str to Sheet
        Tables by name; a table that is absent was not in the folder.
    brief : mapping or None
        Content of ``brief.json``.
    lift : mapping or None
        Content of ``lift.json``, kept.
    package : mapping
        What ``datapackage.json`` says beyond the tables (name, title, licences …), kept.
    files : sequence of KeptFile
        Photographs and papers, in the order of their paths.
    """

    sheets: Mapping[str, Sheet] = field(default_factory=lambda: MappingProxyType({}))
    brief: Mapping[str, Any] | None = None
    lift: Mapping[str, Any] | None = None
    package: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    files: Sequence[KeptFile] = ()

    def sheet(self, name: str) -> Sheet:
        """Table of that name; an empty one where the folder has none."""
        return self.sheets.get(name, Sheet(columns=()))

    @property
    def name(self) -> str:
        """The car in a few words, for people."""
        for row in self.sheet("car"):
            return " ".join(row.text(c) for c in ("marque", "model", "registration") if row.text(c))
        return "car without a name"
