"""What a table, a column and a reference are, and short ways to declare them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Form(StrEnum):
    """What a cell may hold."""

    TEXT = "text"
    NUMBER = "number"
    INTEGER = "integer"
    YES_NO = "yes or no"
    DATE = "EDTF date"
    POLYGON = "WKT polygon"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    Parameters
    ----------
    name : str
    form : Form
    required : bool
        The column must exist.
    blank : bool
        A cell of it may be empty; always so where the column need not exist.
    unit : str
        The unit of a number, for messages and the data package.
    least, most : float or None
        Bounds of a number, both inclusive.
    above, below : float or None
        A number lies between these, never at them.
    words : tuple of str
        The only words allowed; empty for any.
    many : bool
        The cell may hold several words with ``;`` between them.
    of_workshop : bool
        The column is the workshop's alone: what is made for the owner does not hold it.
    """

    name: str
    form: Form = Form.TEXT
    required: bool = False
    blank: bool = True
    unit: str = ""
    least: float | None = None
    most: float | None = None
    above: float | None = None
    below: float | None = None
    words: tuple[str, ...] = ()
    many: bool = False
    of_workshop: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """Cells of ``columns`` name a row of one of ``targets`` by the columns given there."""

    columns: tuple[str, ...]
    targets: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table of the car folder.

    Parameters
    ----------
    name : str
        The file is ``name.csv``.
    columns : tuple of Column
    key : tuple of str
        Columns whose values together are unique; empty for none.
    one_of : tuple of str
        At least one of these columns must be filled in every row.
    one_row : bool
        The table holds a single row.
    prefix : str
        Extra columns that begin so are numbers, zero or more (``hours_<trade>``).
    references : tuple of Reference
        What must exist elsewhere, checked when the other table is there.
    of_workshop : bool
        The table is the workshop's alone: what is made for the owner does not hold it.
    """

    name: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    one_of: tuple[str, ...] = ()
    one_row: bool = False
    prefix: str = ""
    references: tuple[Reference, ...] = ()
    of_workshop: bool = False

    @property
    def file(self) -> str:
        """Name of the table's file."""
        return f"{self.name}.csv"

    def column(self, name: str) -> Column:
        """Declared column of that name, or a free text column for an unknown one."""
        for column in self.columns:
            if column.name == name:
                return column
        if self.prefix and name.startswith(self.prefix):
            return Column(name=name, form=Form.NUMBER, unit="h", least=0)
        return Column(name=name)


def text(name: str, *, required: bool = False, words: tuple[str, ...] = ()) -> Column:
    """Column of words; a required one may not be blank."""
    return Column(name=name, required=required, blank=not required, words=words)


def number(
    name: str,
    unit: str = "",
    *,
    required: bool = False,
    blank: bool | None = None,
    least: float | None = None,
    most: float | None = None,
    above: float | None = None,
    below: float | None = None,
) -> Column:
    """Column of numbers within bounds; ``blank`` lets a required column have empty cells."""
    return Column(
        name=name,
        form=Form.NUMBER,
        required=required,
        blank=not required if blank is None else blank,
        unit=unit,
        least=least,
        most=most,
        above=above,
        below=below,
    )


def whole(name: str, *, least: float | None = None, most: float | None = None) -> Column:
    """Column of whole numbers, which may be blank."""
    return Column(name=name, form=Form.INTEGER, least=least, most=most)


def date(name: str, *, required: bool = False) -> Column:
    """Column of EDTF dates."""
    return Column(name=name, form=Form.DATE, required=required, blank=not required)


def points_to(column: str, *targets: tuple[str, str]) -> Reference:
    """Reference from one column to the key of one of the targets, each (table, column)."""
    return Reference(columns=(column,), targets=tuple((table, (key,)) for table, key in targets))


PANEL_OR_PART = (("panels", "panel"), ("parts", "part"))
