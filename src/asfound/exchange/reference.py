"""The tables of a car folder told in Markdown, from their one declaration."""

from __future__ import annotations

import math

from asfound.exchange.read import MAX_TABLE_BYTES
from asfound.exchange.rules import SPOT_CIRCLE_MM
from asfound.record.tables import TABLES, Column, Form, Table

_HEAD = f"""# The car folder

A car folder is what a workshop can keep, mail, put under version control or open in a
spreadsheet in forty years. Every table is optional. A column in brackets is optional; unknown
extra columns are kept and given back. Lengths in mm, film in µm, mass in kg, time in hours,
money in the car's currency, dates as EDTF (ISO 8601-2).

Written: UTF-8, comma, point as decimal mark. Read: also semicolon and tab, decimal comma,
UTF-8 with byte order mark, UTF-16 with byte order mark, cp1252. Between commas a number such as
`1,234` could mean thousands and is refused. Between semicolons or tabs a film such as `1.234` or
`12,345` is asked back unless another number of the file shows the decimal mark. A table may have
{MAX_TABLE_BYTES / 1e6:.0f} MB.

A table may also be a spreadsheet, such as `film.xlsx` in the place of `film.csv`, not beside it.
Its sheet is the one named as the table, otherwise the first that holds something. Titles above
the head are passed over, formulas are the values that the file keeps of them, and a cell merged
downwards holds for each of its rows.

Readings of one (panel, spot) in `film.csv` form a spot and lie within {SPOT_CIRCLE_MM:.0f} mm of
its first reading (SSPC-PA 2 takes three readings within a circle of 4 cm).

This page is what `asfound tables` prints.
"""

_TAIL = """
## What a piece weighs

`weight` of `subjects.csv` as it was typed; where it is empty or the piece is not listed, what its
grades of `significance.csv` make by the weights of `criteria.csv`: the mean of the grades (none 0,
some 1, considerable 3, exceptional 5), each counted as often as its criterion weighs, to the
hundredth. Where neither is told it is 1. Without `criteria.csv` eight criteria hold, with one
weight each.

## `brief.json`

`{"name", "cost_max", "hours_max": {trade: hours}, "min_grade": {zone: grade}, "note",
"untouched": [zone or piece], "needs_evidence": [treatment]}`; null or absent means no limit. A
limit under another key is a fault; other keys are kept and given back. A trade or zone that is
nearly one of `options.csv` or `subjects.csv` is a fault.

A zone or piece of `untouched` takes only *leave as found* or *preventive care*; a zone does not
hold those of its pieces on which lives hang, that have a floor of their own, or that are locked. A
treatment of `needs_evidence` is chosen only for a piece of which a row of `evidence.csv` counts
and is not neutral (`lr` below 1/2 or above 2), on which lives hang, or that is locked. A name that
no table knows is a fault.

## `lift.json`, `photos/`

Kept and given back as they came. Where there is a folder `photos/`, each row of `photos.csv`
names a file in it, with or without `photos/` before it, and has that file's SHA-256. A photograph
without a row is kept.
"""


def tables_markdown() -> str:
    """Every table with its columns, units and rules, as the reference page shows it."""
    return _HEAD + "".join(_table(table) for table in TABLES.values()) + _TAIL


def _table(table: Table) -> str:
    lines = [f"\n## `{table.file}`\n", "| column | holds | rule |", "|---|---|---|"]
    lines += [_column(column, table) for column in table.columns]
    if table.prefix:
        lines.append(f"| [`{table.prefix}<trade>`] | number [h] | 0 or more; one column a trade |")
    return "\n".join(lines) + "\n" + "".join(f"\n{note}\n" for note in _notes(table))


def _column(column: Column, table: Table) -> str:
    name = f"`{column.name}`" if column.required else f"[`{column.name}`]"
    unit = f" [{column.unit}]" if column.unit else ""
    return f"| {name} | {column.form.value}{unit} | {'; '.join(_rules(column, table))} |"


def _rules(column: Column, table: Table) -> list[str]:
    rules = []
    if column.words:
        rules.append(", ".join(column.words))
    if column.above is not None:
        rules.append(f"above {column.above:g}")
    if column.below is not None:
        rules.append(f"below {column.below:g}")
    if column.form in (Form.NUMBER, Form.INTEGER) and column.least is not None:
        most = math.inf if column.most is None else column.most
        rules.append(
            f"{column.least:g} or more" if math.isinf(most) else f"{column.least:g} to {most:g}"
        )
    if column.many:
        rules.append("several with `;` between them")
    if column.required and column.blank:
        rules.append("may be empty")
    if table.key == (column.name,):
        rules.append("unique")
    return rules


def _notes(table: Table) -> list[str]:
    notes = []
    if table.one_row:
        notes.append("One row.")
    if len(table.key) > 1:
        notes.append(f"Unique: {' and '.join(table.key)} together.")
    if table.one_of:
        notes.append(f"One of {' and '.join(table.one_of)} is filled in every row.")
    for reference in table.references:
        files = " or ".join(f"`{TABLES[target].file}`" for target, _ in reference.targets)
        notes.append(f"{' and '.join(reference.columns)}: a row of {files}.")
    return notes
