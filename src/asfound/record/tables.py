"""The tables of a car: one declaration for the folder, the checks, the database and the docs.

Column order is the order of export. Names, units and rules are those of the car folder's
contract (docs/reference/car-folder.md).
"""

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
    words : tuple of str
        The only words allowed; empty for any.
    many : bool
        The cell may hold several words with ``;`` between them.
    """

    name: str
    form: Form = Form.TEXT
    required: bool = False
    blank: bool = True
    unit: str = ""
    least: float | None = None
    most: float | None = None
    words: tuple[str, ...] = ()
    many: bool = False


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
    """

    name: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    one_of: tuple[str, ...] = ()
    one_row: bool = False
    prefix: str = ""
    references: tuple[Reference, ...] = ()

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


def _text(name: str, *, required: bool = False, words: tuple[str, ...] = ()) -> Column:
    return Column(name=name, required=required, blank=not required, words=words)


def _number(
    name: str,
    unit: str = "",
    *,
    required: bool = False,
    blank: bool | None = None,
    least: float | None = None,
    most: float | None = None,
) -> Column:
    return Column(
        name=name,
        form=Form.NUMBER,
        required=required,
        blank=not required if blank is None else blank,
        unit=unit,
        least=least,
        most=most,
    )


def _whole(name: str, *, least: float | None = None, most: float | None = None) -> Column:
    return Column(name=name, form=Form.INTEGER, least=least, most=most)


def _date(name: str, *, required: bool = False) -> Column:
    return Column(name=name, form=Form.DATE, required=required, blank=not required)


def _to(column: str, *targets: tuple[str, str]) -> Reference:
    return Reference(columns=(column,), targets=tuple((table, (key,)) for table, key in targets))


_PANEL_OR_PART = (("panels", "panel"), ("parts", "part"))
_YES_NO = Form.YES_NO
_BASES = ("measured", "data", "experience", "guess")
_UNITS_OF_TIME = ("day", "month", "year")

TABLES: dict[str, Table] = {
    table.name: table
    for table in (
        Table(
            name="car",
            one_row=True,
            columns=(
                _text("marque", required=True),
                _text("model", required=True),
                _text("body_style", required=True),
                _date("built", required=True),
                _text("registration"),
                _text("colour_name"),
                _text("currency"),
                _text("note"),
            ),
        ),
        Table(
            name="identifiers",
            columns=(
                _text("kind", required=True),
                _text("text_as_read", required=True),
                _text("method", required=True),
                _text("where", required=True),
                _text("expected"),
                _text("expected_source"),
                _text("surface_note"),
                _text("photo"),
                _text("read_on"),
                _text("read_by"),
            ),
        ),
        Table(
            name="odometer",
            columns=(
                _date("date", required=True),
                _number("reading", required=True, least=0),
                _text("unit", required=True, words=("km", "mile")),
                _text("source", required=True),
                _whole("digits", least=1, most=9),
                _text("instrument"),
            ),
        ),
        Table(
            name="panels",
            key=("panel",),
            columns=(
                _text("panel", required=True),
                _text("section", required=True),
                _text("substrate", required=True, words=("steel", "aluminium", "other", "unknown")),
                Column(
                    name="outline_wkt", form=Form.POLYGON, required=True, blank=False, unit="mm"
                ),
                _text("view"),
                _number("nominal_mm", "mm", least=0),
                _text("placement"),
            ),
        ),
        Table(
            name="film",
            columns=(
                _text("panel", required=True),
                _text("spot", required=True),
                _number("x_mm", "mm", required=True),
                _number("y_mm", "mm", required=True),
                _number("thickness_um", "µm", required=True, least=0, most=50_000),
                _text("gauge"),
                _text("taken_at"),
                _text("by"),
            ),
            references=(_to("panel", ("panels", "panel")),),
        ),
        Table(
            name="shims",
            columns=(
                _text("gauge"),
                _number("nominal_um", "µm", required=True, least=0, most=50_000),
                _number("read_um", "µm", required=True, least=-1_000, most=50_000),
                _text("taken_at"),
            ),
        ),
        Table(
            name="metal",
            one_of=("panel", "part"),
            columns=(
                _text("panel"),
                _text("part"),
                _number("x_mm", "mm", required=True),
                _number("y_mm", "mm", required=True),
                _number("thickness_mm", "mm", required=True, least=0),
                _text("gauge"),
            ),
            references=(_to("panel", ("panels", "panel")), _to("part", ("parts", "part"))),
        ),
        Table(
            name="colour",
            one_of=("panel", "part"),
            columns=(
                _text("panel"),
                _text("part"),
                _number("x_mm", "mm", required=True),
                _number("y_mm", "mm", required=True),
                _number("L", required=True, least=0, most=200),
                _number("a", required=True),
                _number("b", required=True),
                _text("exposure", required=True, words=("exposed", "hidden")),
                _text("illuminant"),
                _text("observer"),
                _text("instrument"),
            ),
            references=(_to("panel", ("panels", "panel")), _to("part", ("parts", "part"))),
        ),
        Table(
            name="parts",
            key=("part",),
            columns=(
                _text("part", required=True),
                _text("name", required=True),
                _text("parent"),
                _text("section"),
                _text("state"),
                _text("condition"),
                _number("mass_kg", "kg", least=0),
                _text("place"),
                _number("significance", least=0, most=5),
                Column(name="safety", form=_YES_NO),
                _text("note"),
            ),
            references=(_to("parent", ("parts", "part")),),
        ),
        Table(
            name="findings",
            columns=(
                _text("subject", required=True),
                _text("kind", required=True),
                _text("extent", required=True),
                _number("severity", required=True, least=0, most=4),
                _number("x_mm", "mm"),
                _number("y_mm", "mm"),
                _text("photo"),
                _text("found_on"),
                _text("found_by"),
                _text("note"),
            ),
            references=(_to("subject", *_PANEL_OR_PART),),
        ),
        Table(
            name="evidence",
            columns=(
                _text("subject", required=True),
                _text("statement", required=True),
                _text("alternative", required=True),
                _text("item", required=True),
                _number("lr", required=True, least=0),
                _text("basis", required=True, words=_BASES),
                _text("cause"),
                _text("by"),
                _text("note"),
            ),
        ),
        Table(
            name="events",
            key=("event",),
            columns=(
                _text("event", required=True),
                _text("subject"),
                _date("not_before"),
                _date("not_after"),
                _text("note"),
            ),
        ),
        Table(
            name="event_links",
            key=("id",),
            columns=(
                _text("id", required=True),
                _text("from", required=True),
                _text("to", required=True),
                _number("min", required=True, blank=True),
                _number("max", required=True, blank=True),
                _text("unit", required=True, words=_UNITS_OF_TIME),
                _text("why"),
            ),
            references=(_to("from", ("events", "event")), _to("to", ("events", "event"))),
        ),
        Table(
            name="options",
            key=("subject", "option"),
            prefix="hours_",
            columns=(
                _text("subject", required=True),
                _text("option", required=True),
                _text("treatment", required=True),
                _number("kept", required=True, least=0, most=1),
                _number("grade", required=True, least=0, most=5),
                _number("cost", required=True, least=0),
                Column(name="safe", form=_YES_NO),
                _text("undoable", words=("yes", "partly", "no")),
            ),
        ),
        Table(
            name="option_links",
            columns=(
                _text("kind", required=True, words=("requires", "excludes", "shares")),
                _text("subject", required=True),
                _text("option", required=True),
                _text("other_subject", required=True),
                _text("other_option", required=True),
                _number("saves_cost", least=0),
                _number("saves_hours", "h", least=0),
                _text("trade"),
                _text("why"),
            ),
            references=(
                Reference(
                    columns=("subject", "option"), targets=(("options", ("subject", "option")),)
                ),
                Reference(
                    columns=("other_subject", "other_option"),
                    targets=(("options", ("subject", "option")),),
                ),
            ),
        ),
        Table(
            name="subjects",
            key=("subject",),
            columns=(
                _text("subject", required=True),
                _number("weight", required=True, blank=True, least=0),
                _number("min_grade", required=True, blank=True, least=0, most=5),
                _text("zone"),
                _text("locked_option"),
            ),
            references=(
                Reference(
                    columns=("subject", "locked_option"),
                    targets=(("options", ("subject", "option")),),
                ),
            ),
        ),
        Table(
            name="tasks",
            key=("task",),
            columns=(
                _text("task", required=True),
                _text("name", required=True),
                _text("trade", required=True),
                _number("hours_low", "h", required=True, least=0),
                _number("hours_likely", "h", required=True, least=0),
                _number("hours_high", "h", required=True, least=0),
                _whole("people", least=0),
                _text("bay"),
                _text("subject"),
                _text("earliest"),
            ),
        ),
        Table(
            name="task_links",
            columns=(
                _text("before", required=True),
                _text("after", required=True),
                _number("lag_hours", "h"),
            ),
            references=(_to("before", ("tasks", "task")), _to("after", ("tasks", "task"))),
        ),
        Table(
            name="people",
            key=("person",),
            columns=(
                _text("person", required=True),
                Column(name="trades", required=True, blank=False, many=True),
                _number("hours_per_day", "h", required=True, least=0, most=24),
                _text("days"),
                _text("away"),
            ),
        ),
        Table(
            name="bays",
            key=("bay",),
            columns=(
                _text("bay", required=True),
                Column(name="count", form=Form.INTEGER, required=True, blank=False, least=0),
            ),
        ),
        Table(
            name="photos",
            key=("file",),
            columns=(
                _text("file", required=True),
                _text("sha256", required=True),
                _text("subject", required=True),
                _text("view", required=True),
                _text("stage", required=True, words=("before", "during", "after")),
                _text("taken_at"),
                _text("by"),
                _number("x_mm", "mm"),
                _number("y_mm", "mm"),
                _text("note"),
            ),
        ),
    )
}
