"""An upload that was matched, checked under the rules of the car folder, told as pages tell."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import count

from asfound.desk.survey.places import rows_off_panel
from asfound.desk.survey.told_tables import LOADED, ToldTable, label_of
from asfound.exchange import check_written
from asfound.exchange.dialect import Written
from asfound.exchange.head_units import in_own_unit, said_unit, times
from asfound.exchange.numbers import without_unit
from asfound.exchange.rules import SPOT_CIRCLE_MM, check_across
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.tables import TABLES, Form, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """What a person says of a file.

    Parameters
    ----------
    places : mapping of str to int
        Place in the file of each column that it has.
    fixed : mapping of str to str
        What holds for every row; it goes before a column of the file.
    decimal : str
        The decimal mark; empty for what the numbers show.
    takes_off_panel : bool
        Whether places that lie off their panel are meant.
    """

    places: Mapping[str, int]
    fixed: Mapping[str, str] = field(default_factory=dict)
    decimal: str = ""
    takes_off_panel: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What an upload would write: the sheet if it has no fault, and the faults if it has."""

    sheet: Sheet | None
    faults: tuple[Fault, ...]
    off_panel_n: int = 0


def check(
    written: Written, match: Match, *, car: CarFolder, file: str, told: ToldTable = LOADED["film"]
) -> Checked:
    """Rows under their declared names, with every fault that the car folder's rules find."""
    written, match = _counted_on(written, match, car, told)
    unmatched = list(_unmatched(match, told, file))
    if unmatched:
        return Checked(sheet=None, faults=tuple(unmatched))
    sheet, found = check_written(_renamed(written, match, told.table), told.table, file=file)
    faults = list(found)
    off: list[Fault] = []
    if sheet is not None:
        sheet = replace(sheet, numbers=tuple(number for number, _ in written.rows))
        faults += _faults_across(sheet, car, file, told.table)
        off = list(_off_panel(sheet, car, file))
        faults += [] if match.takes_off_panel else off
        faults.sort(key=lambda fault: fault.row)
    said = _in_their_words(faults, written, match)
    return Checked(sheet=None if said else sheet, faults=said, off_panel_n=len(off))


def _counted_on(
    written: Written, match: Match, car: CarFolder, told: ToldTable
) -> tuple[Written, Match]:
    """The file with numbers where it leaves them empty, counted on from those of the car."""
    if not told.counted:
        return written, match
    place = match.places.get(told.counted, len(written.head))
    given = [_cell(cells, place) for _, cells in written.rows]
    taken = [*(row.text(told.counted) for row in car.sheet(told.table.name)), *given]
    following = count(1 + max((int(n) for n in taken if re.fullmatch(r"\d{1,9}", n)), default=0))
    width = max(len(written.head), place + 1)
    rows = tuple(
        (number, _put(cells, place, cell or f"{next(following):04d}", width))
        for (number, cells), cell in zip(written.rows, given, strict=True)
    )
    head = written.head if place < len(written.head) else (*written.head, told.counted)
    counted = replace(written, head=head, rows=rows)
    return counted, replace(match, places={**match.places, told.counted: place})


def _put(cells: tuple[str, ...], place: int, text: str, width: int) -> tuple[str, ...]:
    wide = [*cells, *[""] * (width - len(cells))]
    wide[place] = text
    return tuple(wide)


def _unmatched(match: Match, told: ToldTable, file: str) -> Iterator[Fault]:
    has = {*match.places, *(name for name, text in match.fixed.items() if text)}
    wanted: list[tuple[str, ...]] = [
        (column.name,) for column in told.table.columns if column.required
    ]
    wanted += [told.table.one_of] if told.table.one_of else []
    for names in wanted:
        if not has & set(names):
            words = " or ".join(label_of(name) for name in names)
            same = ", or say what holds for every row" if set(names) & set(told.fixed) else ""
            yield Fault(
                file=file,
                rule=f"no column is chosen for: {words}",
                remedy=f"Choose it below{same}.",
            )


def _renamed(written: Written, match: Match, table: Table) -> Written:
    """Rows under the table's names; what holds for every row is a column of its own."""
    fixed = {name: text for name, text in match.fixed.items() if text}
    names = [c.name for c in table.columns if c.name in match.places or c.name in fixed]
    moved = {new: match.places[n] for new, n in enumerate(names) if n not in fixed}
    renamed = replace(
        written,
        head=tuple(names),
        rows=tuple(
            (
                number,
                tuple(
                    fixed[n]
                    if n in fixed
                    else without_unit(_cell(cells, match.places[n]), table.column(n))
                    for n in names
                ),
            )
            for number, cells in written.rows
        ),
        decimal=match.decimal,
        typed=frozenset(
            (number, new)
            for number, _ in written.rows
            for new, old in moved.items()
            if (number, old) in written.typed
        ),
        odd={
            (number, new): why
            for (number, place), why in written.odd.items()
            for new, old in moved.items()
            if old == place
        },
    )
    heads = {new: written.head[old] for new, old in moved.items() if old < len(written.head)}
    return _in_own_units(renamed, heads, table)


def _in_own_units(written: Written, heads: Mapping[int, str], table: Table) -> Written:
    """The file with numbers brought to the table's units where their head names another."""
    other = {
        new: (head, column)
        for new, head in heads.items()
        if times(head, column := table.column(written.head[new])) != 1
    }
    if not other:
        return written
    rows, typed = [], set(written.typed)
    for number, cells in written.rows:
        brought = list(cells)
        for new, (head, column) in other.items():
            mark = "." if (number, new) in typed else written.decimal
            own = in_own_unit(cells[new], head, column, separator=written.separator, mark=mark)
            if own is not None:
                brought[new] = own
                typed.add((number, new))
        rows.append((number, tuple(brought)))
    return replace(written, rows=tuple(rows), typed=frozenset(typed))


def other_units(written: Written, match: Match, told: ToldTable) -> list[str]:
    """What is said of columns whose head names another unit than the table's."""
    said = []
    for name, place in match.places.items():
        head = written.head[place] if place < len(written.head) else ""
        column = told.table.column(name)
        if times(head, column) != 1 and not match.fixed.get(name):
            said.append(
                f"“{head}” is taken as {said_unit(head)}: "
                f"1 {said_unit(head)} = {times(head, column):g} {column.unit}"
            )
    return said


def _cell(cells: tuple[str, ...], place: int) -> str:
    return cells[place] if place < len(cells) else ""


def _in_their_words(faults: list[Fault], written: Written, match: Match) -> tuple[Fault, ...]:
    """Faults that name the column as the file does; what holds for every row is told once."""
    told: dict[Fault, None] = {}
    for fault in faults:
        label = label_of(fault.column)
        rule = re.sub(rf"^{re.escape(fault.column)}\b", label.split(",")[0], fault.rule)
        if match.fixed.get(fault.column):
            told[replace(fault, row=0, column=f"{label}, the same in every row", rule=rule)] = None
        elif fault.column in match.places:
            name = written.head[match.places[fault.column]] or label
            told[replace(fault, column=name, rule=rule)] = None
        else:
            told[fault] = None
    return tuple(told)


def _faults_across(sheet: Sheet, car: CarFolder, file: str, table: Table) -> list[Fault]:
    """What shows only beside other rows and what the record has already."""
    beside = {n for reference in table.references for n, _ in reference.targets} & set(car.sheets)
    across = check_across({**{name: car.sheet(name) for name in beside}, table.name: sheet})
    faults = [_on_a_page(f, file) for f in across if f.file == table.file]
    if any(column.name == "spot" for column in table.columns):
        faults += _moved_spots(sheet, car, file, table)
    if not len(sheet):
        rule = "the file has a head and no row"
        faults.append(Fault(file=file, rule=rule, remedy="Export it once more."))
    return faults


def _on_a_page(fault: Fault, file: str) -> Fault:
    """Fault without the names of files that nobody on a page has seen."""
    if fault.rule.endswith("has no such row"):
        rule = f"the car has no {fault.column} of this name"
        return replace(fault, file=file, rule=rule, remedy="Correct the name, or add it first.")
    return replace(fault, file=file, rule=re.sub(r"(\w+)\.csv", r"the car's \1 table", fault.rule))


def _moved_spots(sheet: Sheet, car: CarFolder, file: str, table: Table) -> Iterator[Fault]:
    """A spot that the record has already must be the same place in the file."""
    known = {_spot(row): place for row in car.sheet(table.name) if (place := _place(row))}
    for row in sheet:
        here, there = _place(row), known.get(_spot(row))
        if here and there and math.dist(here, there) > SPOT_CIRCLE_MM:
            yield Fault(
                file=file,
                row=row.number_in_file,
                column="panel and spot",
                value=", ".join(_spot(row)),
                rule=f"the record has this spot at {there[0]:g}, {there[1]:g} mm, more than "
                f"{SPOT_CIRCLE_MM:.0f} mm away",
                remedy="Give the spot another name, or correct its place.",
            )


def _spot(row: Row) -> tuple[str, str]:
    return row.text("panel"), row.text("spot")


def _place(row: Row) -> tuple[float, float] | None:
    try:
        return row.number("x_mm"), row.number("y_mm")
    except (KeyError, ValueError):
        return None  # no place, or the cell's own fault is already told


def _off_panel(sheet: Sheet, car: CarFolder, file: str) -> Iterator[Fault]:
    rows = list(sheet)
    for i, off_mm in rows_off_panel(sheet, car):
        yield Fault(
            file=file,
            row=rows[i].number_in_file,
            column="x and y",
            value=f"{rows[i].text('x_mm')}, {rows[i].text('y_mm')}",
            rule=f"the place lies {off_mm:.0f} mm off the panel {rows[i].text('panel')}",
            remedy="Correct x and y, or say below that such places are meant.",
        )


def twins(sheet: Sheet, car: CarFolder, table: Table = TABLES["film"]) -> int:
    """Count the rows that the record has already, the same in all that must be filled."""
    known = {_essence(row, table) for row in car.sheet(table.name)}
    return sum(_essence(row, table) in known for row in sheet)


def _essence(row: Row, table: Table) -> tuple[str | float, ...]:
    told = [c for c in table.columns if c.required or c.name in table.one_of]
    return tuple(
        float(text)
        if (text := row.text(c.name)) and c.form in (Form.NUMBER, Form.INTEGER)
        else text
        for c in told
    )
