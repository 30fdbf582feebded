"""Rules that reach across rows and tables: names that must exist, spots that hold together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from asfound.record.convert.coupling_faults import coupling_faults
from asfound.record.convert.evidence import evidence_faults
from asfound.record.convert.history_faults import history_faults
from asfound.record.convert.lock_faults import lock_faults
from asfound.record.convert.metal_grounds import nominal_faults
from asfound.record.convert.money_faults import money_faults
from asfound.record.convert.numbers import class_faults
from asfound.record.convert.past_hours import learned_faults
from asfound.record.convert.significance import significance_faults
from asfound.record.convert.standing import standing_faults
from asfound.record.convert.wear import wear_faults
from asfound.record.convert.work_faults import work_faults
from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet
from asfound.record.tables import TABLES, Reference, Table

SPOT_CIRCLE_MM = 40.0
"""A spot is the mean of readings within a circle of 4 cm (SSPC-PA 2, section 2.1)."""


def check_across(sheets: Mapping[str, Sheet]) -> list[Fault]:
    """Faults that show only when rows or tables are seen together."""
    faults: list[Fault] = []
    for name, sheet in sheets.items():
        for reference in TABLES[name].references:
            faults += _unknown_names(TABLES[name], sheet, reference, sheets)
    faults += _scattered_spots(sheets)
    faults += _gauges_without_shims(sheets)
    faults += _hours_saved_of_no_trade(sheets)
    faults += coupling_faults(sheets)
    faults += learned_faults(sheets)
    faults += lock_faults(sheets)
    faults += significance_faults(sheets)
    faults += _nominals_of_no_system(sheets)
    faults += evidence_faults(sheets.get("evidence", Sheet(columns=())))
    for name in ("identifiers", "odometer"):
        faults += standing_faults(sheets.get(name, Sheet(columns=())), file=TABLES[name].file)
    faults += wear_faults(sheets.get("wear", Sheet(columns=())))
    faults += class_faults(sheets.get("preservation_classes", Sheet(columns=())))
    faults += history_faults(sheets)
    faults += work_faults(sheets)
    faults += money_faults(sheets)
    return faults


def _unknown_names(
    table: Table, sheet: Sheet, reference: Reference, sheets: Mapping[str, Sheet]
) -> Iterator[Fault]:
    """Names are checked only when every table they may come from is there."""
    if any(target not in sheets for target, _ in reference.targets):
        return
    known = {
        tuple(row.text(column) for column in columns)
        for target, columns in reference.targets
        for row in sheets[target]
    }
    files = " or ".join(TABLES[target].file for target, _ in reference.targets)
    for row in sheet:
        value = tuple(row.text(column) for column in reference.columns)
        if value[-1] and value not in known:
            yield Fault(
                file=table.file,
                row=row.number_in_file,
                column=" and ".join(reference.columns),
                value=", ".join(value),
                rule=f"{files} has no such row",
                remedy=f"Correct the name, or add the row to {files}.",
            )


def _scattered_spots(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Readings of one (panel, spot) must lie within the circle of a spot."""
    first: dict[tuple[str, str], Row] = {}
    for row in sheets.get("film", Sheet(columns=())):
        try:
            here = _place(row)
        except ValueError:
            continue  # the cell's own fault is already told
        there = first.setdefault((row.text("panel"), row.text("spot")), row)
        if math.dist(here, _place(there)) > SPOT_CIRCLE_MM:
            yield Fault(
                file="film.csv",
                row=row.number_in_file,
                column="panel and spot",
                value=f"{row.text('panel')}, {row.text('spot')}",
                rule=f"row {there.number_in_file} puts this spot at {_place(there)} mm, this row "
                f"at {here} mm; readings of one spot lie within {SPOT_CIRCLE_MM:.0f} mm",
                remedy="Give the reading a spot name of its own, or correct x_mm and y_mm.",
            )


def _place(row: Row) -> tuple[float, float]:
    return row.number("x_mm", default=0.0), row.number("y_mm", default=0.0)


def _gauges_without_shims(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """A gauge named in a reading but not on the shims is usually a slip of the pen."""
    shims = {row.text("gauge") for row in sheets.get("shims", Sheet(columns=()))} - {""}
    told: set[str] = set()
    for row in sheets.get("film", Sheet(columns=())):
        gauge = row.text("gauge")
        if gauge and shims and gauge not in shims and gauge not in told:
            twin = next((name for name in shims if name.lower() == gauge.lower()), "")
            if twin:
                told.add(gauge)
                yield Fault(
                    file="film.csv",
                    row=row.number_in_file,
                    column="gauge",
                    value=gauge,
                    rule=f"shims.csv calls the gauge {twin!r}",
                    remedy="Write one gauge one way in both tables.",
                )


def _hours_saved_of_no_trade(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    prefix = TABLES["options"].prefix
    options = sheets.get("options", Sheet(columns=()))
    trades = {c.removeprefix(prefix) for c in options.columns if c.startswith(prefix)}
    for row in sheets.get("option_links", Sheet(columns=())):
        saved, trade = row.text("saves_hours").strip("0."), row.text("trade")
        if saved and trade not in trades:
            yield Fault(
                file="option_links.csv",
                row=row.number_in_file,
                column="trade",
                value=trade,
                rule="hours can only be saved by a trade that options.csv has a column "
                f"{prefix}<trade> for",
                remedy="Name that trade, or save no hours.",
            )


def _nominals_of_no_system(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """A gauge number that its system does not have; empty or odd cells are told already."""
    column = TABLES["sheet_nominals"].column("system")
    rows = sheets.get("sheet_nominals", Sheet(columns=()))
    yield from nominal_faults(
        row for row in rows if row.text("nominal") and row.text("system") in column.words
    )
