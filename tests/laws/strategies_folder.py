"""Car folders that are lawful by the declaration of the tables, for laws about round trips."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from asfound.record.folder import CarFolder, KeptFile, Sheet
from asfound.record.tables import TABLES, Column, Form, Table

_SIGNS = st.characters(exclude_categories=("Cs", "Cc"), exclude_characters="\u2028\u2029\ufeff")
words = st.text(_SIGNS, min_size=1, max_size=8).map(str.strip).filter(bool)
_PLAIN_WORDS = st.text("abcdefgh μé -_;,\"'", min_size=1, max_size=6).map(str.strip).filter(bool)
_DATES = st.sampled_from(["1961", "1961~", "1961-05", "1958/1963", "../1970", "1961-05-12"])
_POLYGONS = st.integers(1, 900).map(lambda w: f"POLYGON ((0 0, {w} 0, {w} 60, 0 60, 0 0))")
_EXTRA = st.sampled_from(["colour of tag", "Übung", "reason", "position", "extra", "id"])
_NAMES_KEPT_SHORT = 5


def _numbers(column: Column) -> st.SearchStrategy[str]:
    if column.above is not None:
        limits = [limit for limit in (column.below, column.most) if limit is not None]
        most = min(limits, default=1e6)
        return st.floats(column.above, most, exclude_min=True, exclude_max=True).map(repr)
    least = -1e6 if column.least is None else column.least
    most = 1e6 if column.most is None else column.most
    if column.form is Form.INTEGER:
        return st.integers(math.ceil(least), math.floor(most)).map(str)
    spelled = st.floats(least, most).map(lambda value: repr(value + 0.0))
    whole = st.integers(math.ceil(least), math.floor(most))
    return st.one_of(spelled, whole.map(str), whole.map(lambda value: f"{value}.0"))


def cells(column: Column) -> st.SearchStrategy[str]:
    """Cells that the column's rule allows."""
    if column.words:
        filled: st.SearchStrategy[str] = st.sampled_from(column.words)
    elif column.form in (Form.NUMBER, Form.INTEGER):
        filled = _numbers(column)
    else:
        filled = {
            Form.YES_NO: st.sampled_from(["yes", "no"]),
            Form.DATE: _DATES,
            Form.POLYGON: _POLYGONS,
        }.get(column.form, st.one_of(words, _PLAIN_WORDS))
    return st.one_of(st.just(""), filled) if column.blank else filled


@st.composite
def sheets(draw: st.DrawFn, table: Table) -> Sheet:
    """A sheet of the table, alone: what it says of other tables is not held to them."""
    names = [c.name for c in table.columns if c.required]
    names += draw(_some([c.name for c in table.columns if not c.required]))
    if table.prefix:
        trades = draw(st.lists(st.sampled_from(["body", "paint", "trim"]), unique=True))
        names += [table.prefix + trade for trade in trades]
    extras = draw(st.lists(_EXTRA, unique=True, max_size=2))
    names += [name for name in extras if name not in {c.name for c in table.columns}]
    if table.one_of and not set(table.one_of) & set(names):
        names.append(table.one_of[0])
    columns = tuple(draw(st.permutations(names)))
    row = st.tuples(*(cells(table.column(name)) for name in columns))
    rows = draw(
        st.lists(
            row,
            min_size=1 if table.one_row else 0,
            max_size=1 if table.one_row else _NAMES_KEPT_SHORT,
            unique_by=_key(table, columns),
        )
    )
    return Sheet(columns=columns, rows=tuple(filter(_one_is_filled(table, columns), rows)))


def _some(names: list[str]) -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(names), unique=True) if names else st.just([])


def _key(table: Table, columns: tuple[str, ...]):
    places = [columns.index(name) for name in table.key if name in columns]
    return (lambda row: tuple(row[i] for i in places)) if places else None


def _one_is_filled(table: Table, columns: tuple[str, ...]):
    places = [columns.index(name) for name in table.one_of if name in columns]
    return lambda row: not places or any(row[i] for i in places)


_LIMITS = st.none() | st.floats(0, 1e6)
briefs = st.none() | st.fixed_dictionaries(
    {},
    optional={
        "name": words,
        "cost_max": _LIMITS,
        "hours_max": st.dictionaries(words, _LIMITS, max_size=2),
        "min_grade": st.dictionaries(words, st.none() | st.floats(0, 5), max_size=2),
        "note": st.none() | words,
        "seen by": st.lists(words, max_size=2),
    },
)
_JSON = st.dictionaries(words, words | st.integers(-9, 9) | st.lists(words, max_size=2), max_size=2)
packages = _JSON.map(
    lambda told: {k: v for k, v in told.items() if k not in ("resources", "profile")}
)


@st.composite
def files(draw: st.DrawFn) -> tuple[KeptFile, ...]:
    """Photographs that are only told of; their bytes are nowhere."""
    names = draw(st.lists(st.sampled_from("abcdef"), unique=True, max_size=3).map(sorted))
    return tuple(
        KeptFile(
            path=f"photos/{name}.jpg",
            sha256=draw(st.text("0123456789abcdef", min_size=64, max_size=64)),
            size=draw(st.integers(0, 10**9)),
        )
        for name in names
    )


def _with_lawful_locks(drawn: dict[str, Sheet]) -> dict[str, Sheet]:
    """Each row of ``locks`` explains a lock of ``subjects``; there are no more than those."""
    if "locks" not in drawn:
        return drawn
    subjects = drawn.get("subjects", Sheet(columns=()))
    locked = [
        (row.text("subject"), row.text("locked_option"))
        for row in subjects
        if row.text("locked_option")
    ]
    columns = drawn["locks"].columns
    there = [columns.index(name) for name in ("subject", "option")]
    rows = []
    for row, lock in zip(drawn["locks"].rows, locked, strict=False):
        cells = list(row)
        for place, cell in zip(there, lock, strict=True):
            cells[place] = cell
        rows.append(tuple(cells))
    return {**drawn, "locks": Sheet(columns=columns, rows=tuple(rows))}


@st.composite
def folders(draw: st.DrawFn, *, with_files: bool = True) -> CarFolder:
    """A car folder: some of the tables, each lawful alone."""
    names = draw(st.lists(st.sampled_from(sorted(TABLES)), unique=True, min_size=1, max_size=5))
    drawn = {name: draw(sheets(TABLES[name])) for name in TABLES if name in names}
    return CarFolder(
        sheets=_with_lawful_locks(drawn),
        brief=draw(briefs),
        lift=draw(st.none() | _JSON),
        package=draw(packages),
        files=draw(files()) if with_files else (),
    )
