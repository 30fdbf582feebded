"""The car itself, its marks as read, and its distances."""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, date, number, text, whole
from asfound.record.tables.standing import standing_columns
from asfound.weigh.numbers import CODES, RECORDS

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
            text("part"),
            text("record", words=RECORDS),
            text("character_style"),
            text("fixing"),
            Column(name="scale_in_photo", form=Form.YES_NO),
            date("cast_on"),
            date("machined_on"),
            date("assembled_on"),
            text("made_for"),
            *standing_columns(),
        ),
    ),
    Table(
        name="preservation_classes",
        columns=(
            text("code", required=True, words=tuple(CODES)),
            text("class", required=True),
            text("edition", required=True),
            text("document"),
            date("given_on"),
            text("note"),
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
            *standing_columns(),
        ),
    ),
)
