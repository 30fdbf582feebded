"""Parts, what was found on them, and photographs."""

from __future__ import annotations

from asfound.record.tables.form import PANEL_OR_PART, Column, Form, Table, number, points_to, text

TABLES = (
    Table(
        name="parts",
        key=("part",),
        columns=(
            text("part", required=True),
            text("name", required=True),
            text("parent"),
            text("section"),
            text("state"),
            text("condition"),
            number("mass_kg", "kg", least=0),
            text("place"),
            number("significance", least=0, most=5),
            Column(name="safety", form=Form.YES_NO),
            text("note"),
        ),
        references=(points_to("parent", ("parts", "part")),),
    ),
    Table(
        name="findings",
        columns=(
            text("subject", required=True),
            text("kind", required=True),
            text("extent", required=True),
            number("severity", required=True, least=0, most=4),
            number("x_mm", "mm"),
            number("y_mm", "mm"),
            text("photo"),
            text("found_on"),
            text("found_by"),
            text("note"),
        ),
        references=(points_to("subject", *PANEL_OR_PART),),
    ),
    Table(
        name="photos",
        key=("file",),
        columns=(
            text("file", required=True),
            text("sha256", required=True),
            text("subject", required=True),
            text("view", required=True),
            text("stage", required=True, words=("before", "during", "after")),
            text("taken_at"),
            text("by"),
            number("x_mm", "mm"),
            number("y_mm", "mm"),
            text("note"),
        ),
    ),
)
