"""The car itself, its marks as read, and its distances."""

from __future__ import annotations

from asfound.record.tables.form import Table, date, number, text, whole

TABLES = (
    Table(
        name="car",
        one_row=True,
        columns=(
            text("marque", required=True),
            text("model", required=True),
            text("body_style", required=True),
            date("built", required=True),
            text("registration"),
            text("colour_name"),
            text("currency"),
            text("note"),
        ),
    ),
    Table(
        name="identifiers",
        columns=(
            text("kind", required=True),
            text("text_as_read", required=True),
            text("method", required=True),
            text("where", required=True),
            text("expected"),
            text("expected_source"),
            text("surface_note"),
            text("photo"),
            text("read_on"),
            text("read_by"),
        ),
    ),
    Table(
        name="odometer",
        columns=(
            date("date", required=True),
            number("reading", required=True, least=0),
            text("unit", required=True, words=("km", "mile")),
            text("source", required=True),
            whole("digits", least=1, most=9),
            text("instrument"),
        ),
    ),
)
