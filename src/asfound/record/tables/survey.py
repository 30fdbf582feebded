"""What instruments said of panels and parts."""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, number, points_to, text
from asfound.record.tables.standing import standing_columns

TABLES = (
    Table(
        name="panels",
        key=("panel",),
        columns=(
            text("panel", required=True),
            text("section", required=True),
            text("substrate", required=True, words=("steel", "aluminium", "other", "unknown")),
            Column(name="outline_wkt", form=Form.POLYGON, required=True, blank=False, unit="mm"),
            text("view"),
            number("nominal_mm", "mm", least=0),
            text("placement"),
        ),
    ),
    Table(
        name="film",
        columns=(
            text("panel", required=True),
            text("spot", required=True),
            number("x_mm", "mm", required=True),
            number("y_mm", "mm", required=True),
            number("thickness_um", "µm", required=True, least=0, most=50_000),
            text("gauge"),
            text("taken_at"),
            text("by"),
        ),
        references=(points_to("panel", ("panels", "panel")),),
    ),
    Table(
        name="shims",
        columns=(
            text("gauge"),
            number("nominal_um", "µm", required=True, least=0, most=50_000),
            number("read_um", "µm", required=True, least=-1_000, most=50_000),
            text("taken_at"),
        ),
    ),
    Table(
        name="metal",
        one_of=("panel", "part"),
        columns=(
            text("panel"),
            text("part"),
            number("x_mm", "mm", required=True),
            number("y_mm", "mm", required=True),
            number("thickness_mm", "mm", required=True, least=0),
            text("gauge"),
            text("taken_at"),
            text("by"),
        ),
        references=(points_to("panel", ("panels", "panel")), points_to("part", ("parts", "part"))),
    ),
    Table(
        name="colour",
        one_of=("panel", "part"),
        columns=(
            text("panel"),
            text("part"),
            number("x_mm", "mm", required=True),
            number("y_mm", "mm", required=True),
            number("L", required=True, least=0, most=200),
            number("a", required=True),
            number("b", required=True),
            text("exposure", required=True, words=("exposed", "hidden")),
            text("illuminant"),
            text("observer"),
            text("instrument"),
            text("taken_at"),
            text("by"),
        ),
        references=(points_to("panel", ("panels", "panel")), points_to("part", ("parts", "part"))),
    ),
    Table(
        name="polish",
        columns=(
            text("panel", required=True),
            text("area"),
            text("spot", required=True),
            number("x_mm", "mm"),
            number("y_mm", "mm"),
            number("before_um", "µm", required=True, least=0, most=50_000),
            number("after_um", "µm", required=True, least=0, most=50_000),
            Column(name="passes", form=Form.INTEGER, required=True, blank=False, least=1),
            text("process"),
            text("gauge"),
            text("taken_at"),
            text("by"),
        ),
        references=(points_to("panel", ("panels", "panel")),),
    ),
    Table(
        name="wear",
        columns=(
            text("part", required=True),
            text("item", required=True),
            number("wear_mm", "mm", required=True, least=0),
            number("u_mm", "mm", required=True, above=0),
            text("per", required=True, words=("year", "1000 km")),
            number("least_mm", "mm", required=True, above=0),
            number("most_mm", "mm", required=True, above=0),
            text("source", required=True),
            text("taken_at"),
            text("by"),
            text("note"),
            *standing_columns(),
        ),
        references=(points_to("part", ("parts", "part")),),
    ),
    Table(
        name="gaps",
        columns=(
            text("edge", required=True),
            number("along_mm", "mm", required=True),
            number("gap_mm", "mm", required=True, least=0),
            number("flush_mm", "mm"),
            text("instrument"),
            text("taken_at"),
            text("by"),
        ),
        references=(points_to("edge", ("edges", "edge")),),
    ),
)
