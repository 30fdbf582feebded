"""What was done on a car: time, materials, results, holds; each row names its task and its piece.

A row names a task that somebody may take off the list later; what was done stays, so no row
refers to the table of tasks.
"""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, date, number, text

HOLD_KINDS = ("owner must see", "head must see", "photograph first", "part", "specialist")
"""What a hold waits for."""

TABLES = (
    Table(
        name="worked",
        columns=(
            text("task", required=True),
            text("subject", required=True),
            text("person", required=True),
            text("from_at", required=True),
            text("to_at"),
            Column(name="done", form=Form.YES_NO),
            Column(name="cautions_read", many=True),
            text("no_photo"),
            text("by"),
            text("note"),
        ),
    ),
    Table(
        name="materials_used",
        columns=(
            text("task", required=True),
            text("subject", required=True),
            text("material", required=True),
            text("batch", required=True),
            number("amount", least=0),
            text("unit"),
            text("taken_at"),
            text("by"),
            text("note"),
        ),
    ),
    Table(
        name="results",
        columns=(
            text("task", required=True),
            text("subject", required=True),
            text("kind", required=True),
            number("value", required=True),
            text("unit", required=True),
            number("least"),
            number("most"),
            text("tool", required=True),
            text("taken_at"),
            text("by"),
            text("note"),
        ),
    ),
    Table(
        name="holds",
        columns=(
            text("subject", required=True),
            text("task"),
            text("kind", required=True, words=HOLD_KINDS),
            text("why", required=True),
            text("waits_for"),
            date("expected", required=True),
            text("set_at"),
            text("by"),
            text("released_at"),
            text("released_by"),
            text("note"),
            text("finding"),
            Column(name="photo", many=True),
        ),
    ),
)
