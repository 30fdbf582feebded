"""Evidence for and against, and what happened when."""

from __future__ import annotations

from asfound.record.tables.form import Column, Table, date, number, points_to, text
from asfound.record.tables.standing import standing_columns

_BASES = ("measured", "data", "experience", "guess")
KINDS_OF_EVENT = ("made", "fitted", "repaired", "repainted", "sold", "stood unused", "other")
_UNITS_OF_TIME = ("day", "month", "year")

TABLES = (
    Table(
        name="evidence",
        columns=(
            text("subject", required=True),
            text("statement", required=True),
            text("alternative", required=True),
            text("item", required=True),
            number("lr", required=True, above=0),
            text("basis", required=True, words=_BASES),
            text("cause"),
            text("by"),
            text("note"),
            text("given"),
            Column(name="photo", many=True),
            *standing_columns(),
        ),
    ),
    Table(
        name="events",
        key=("event",),
        columns=(
            text("event", required=True),
            text("subject"),
            date("not_before"),
            date("not_after"),
            text("note"),
            *standing_columns(),
            text("kind", words=KINDS_OF_EVENT),
        ),
    ),
    Table(
        name="event_links",
        key=("id",),
        columns=(
            text("id", required=True),
            text("from", required=True),
            text("to", required=True),
            number("min", required=True, blank=True),
            number("max", required=True, blank=True),
            text("unit", required=True, words=_UNITS_OF_TIME),
            text("why"),
            *standing_columns(),
        ),
        references=(points_to("from", ("events", "event")), points_to("to", ("events", "event"))),
    ),
)
