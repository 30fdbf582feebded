"""What readings are held against: instruments, nominals, climates, neighbours, floors, edges."""

from __future__ import annotations

from asfound.record.tables.form import Table, date, number, points_to, text

TABLES = (
    Table(
        name="instruments",
        key=("instrument",),
        columns=(
            text("instrument", required=True),
            text("kind", required=True, words=("sheet thickness", "colour", "gap")),
            number("u", required=True, least=0),
            text("unit", required=True, words=("mm", "CIELAB")),
            text("source", required=True),
        ),
    ),
    Table(
        name="sheet_nominals",
        one_of=("panel", "part"),
        key=("panel", "part"),
        columns=(
            text("panel"),
            text("part"),
            text("nominal", required=True),
            text("system", required=True, words=("SWG", "MSG", "mm")),
            number("tolerance_mm", "mm", least=0),
            number("least_mm", "mm", least=0),
            text("source"),
        ),
        references=(points_to("panel", ("panels", "panel")), points_to("part", ("parts", "part"))),
    ),
    Table(
        name="climates",
        columns=(
            date("since", required=True),
            date("until"),
            text("category", required=True, words=("C1", "C2", "C3", "C4", "C5", "CX")),
            number("first_year_um", "µm", least=0, most=700),
            text("source"),
        ),
    ),
    Table(
        name="neighbours",
        key=("panel", "other_panel"),
        columns=(
            text("panel", required=True),
            text("other_panel", required=True),
            text("note"),
        ),
        references=(
            points_to("panel", ("panels", "panel")),
            points_to("other_panel", ("panels", "panel")),
        ),
    ),
    Table(
        name="colour_thresholds",
        columns=(
            text("measure", required=True, words=("ΔE00", "ΔE76", "not stated")),
            number("over", required=True, least=0),
            number("up_to", required=True, least=0),
            text("meaning", required=True),
            text("field"),
            text("source", required=True),
            text("status"),
        ),
    ),
    Table(
        name="polish_floors",
        key=("panel", "area"),
        columns=(
            text("panel", required=True),
            text("area"),
            number("floor_um", "µm", required=True, least=0, most=50_000),
            text("basis", required=True, words=("measured", "documented", "guess")),
            text("source"),
        ),
        references=(points_to("panel", ("panels", "panel")),),
    ),
    Table(
        name="edges",
        key=("edge",),
        columns=(
            text("edge", required=True),
            text("panel"),
            text("other_panel"),
            text("twin"),
            number("least_mm", "mm", least=0),
            number("most_mm", "mm", least=0),
            text("source"),
        ),
        references=(
            points_to("panel", ("panels", "panel")),
            points_to("other_panel", ("panels", "panel")),
            points_to("twin", ("edges", "edge")),
        ),
    ),
)
