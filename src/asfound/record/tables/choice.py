"""What may be done to each piece, and what the owner asks."""

from __future__ import annotations

from asfound.record.tables.form import (
    Column,
    Form,
    Reference,
    Table,
    date,
    number,
    points_to,
    text,
)
from asfound.weigh.significance import GRADES

LINK_KINDS = ("requires", "excludes", "shares", "seam", "needs off", "waits")

TABLES = (
    Table(
        name="options",
        key=("subject", "option"),
        prefix="hours_",
        columns=(
            text("subject", required=True),
            text("option", required=True),
            text("treatment", required=True),
            number("kept", required=True, least=0, most=1),
            number("grade", required=True, least=0, most=5),
            number("cost", required=True, least=0),
            Column(name="safe", form=Form.YES_NO),
            text("undoable", words=("yes", "partly", "no")),
            number("L", "CIELAB"),
            number("a", "CIELAB"),
            number("b", "CIELAB"),
            text("source", words=("past work", "quote", "guess")),
            number("doubt", least=0, most=2),
            Column(name="learned", many=True),
        ),
    ),
    Table(
        name="treatment_rates",
        key=("kind", "option", "unit"),
        prefix="hours_",
        columns=(
            text("kind", required=True),
            text("option", required=True),
            text("treatment", required=True),
            text("unit", required=True, words=("each", "m", "m²")),
            number("kept", required=True, least=0, most=1),
            number("grade", required=True, least=0, most=5),
            number("cost", required=True, least=0),
            text("undoable", words=("yes", "partly", "no")),
            text("caution"),
            text("source", required=True, words=("past work", "quote", "guess")),
            number("doubt", least=0, most=2),
        ),
    ),
    Table(
        name="piece_sizes",
        key=("subject", "unit"),
        columns=(
            text("subject", required=True),
            text("kind", required=True),
            number("size", blank=True, required=True, least=0),
            text("unit", required=True, words=("each", "m", "m²")),
            text("note"),
        ),
    ),
    Table(
        name="as_left",
        key=("subject",),
        columns=(
            text("subject", required=True),
            date("done_on", required=True),
            number("kept", required=True, least=0, most=1),
            text("by", required=True),
            text("note"),
        ),
    ),
    Table(
        name="safety_tests",
        columns=(
            text("subject", required=True),
            text("test", required=True),
            Column(name="passed", form=Form.YES_NO, required=True, blank=False),
            date("tested_on", required=True),
            text("by", required=True),
            text("note"),
        ),
    ),
    Table(
        name="option_links",
        columns=(
            text("kind", required=True, words=LINK_KINDS),
            text("subject", required=True),
            Column(name="option", required=True),
            text("other_subject", required=True),
            Column(name="other_option", required=True),
            number("saves_cost", least=0),
            number("saves_hours", "h", least=0),
            text("trade"),
            text("why"),
            number("most_grade_step", least=0, most=5),
            number("most_colour_step", "ΔE00", least=0),
        ),
        references=(
            Reference(columns=("subject", "option"), targets=(("options", ("subject", "option")),)),
            Reference(
                columns=("other_subject", "other_option"),
                targets=(("options", ("subject", "option")),),
            ),
        ),
    ),
    Table(
        name="subjects",
        key=("subject",),
        columns=(
            text("subject", required=True),
            number("weight", required=True, blank=True, least=0),
            number("min_grade", required=True, blank=True, least=0, most=5),
            text("zone"),
            text("locked_option"),
            text("panel"),
            text("part"),
        ),
        references=(
            points_to("panel", ("panels", "panel")),
            points_to("part", ("parts", "part")),
            Reference(
                columns=("subject", "locked_option"),
                targets=(("options", ("subject", "option")),),
            ),
        ),
    ),
    Table(
        name="criteria",
        key=("criterion",),
        columns=(
            text("criterion", required=True),
            number("weight", required=True, least=0),
            text("meaning"),
            text("source"),
        ),
    ),
    Table(
        name="significance",
        key=("subject", "criterion"),
        columns=(
            text("subject", required=True),
            text("criterion", required=True),
            text("grade", required=True, words=tuple(GRADES)),
            text("reason", required=True),
            text("by", required=True),
        ),
        references=(points_to("criterion", ("criteria", "criterion")),),
    ),
    Table(
        name="locks",
        key=("subject",),
        columns=(
            text("subject", required=True),
            text("option", required=True),
            text("reason", required=True),
            text("by"),
            date("locked_on"),
        ),
        references=(
            Reference(
                columns=("subject", "option"),
                targets=(("subjects", ("subject", "locked_option")),),
            ),
        ),
    ),
    Table(
        name="dissents",
        columns=(
            text("subject", required=True),
            text("option", required=True),
            text("words", required=True),
            text("by", required=True),
            date("said_on"),
        ),
    ),
)
