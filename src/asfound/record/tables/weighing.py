"""The workshop's own rules for weighing evidence."""

from __future__ import annotations

from asfound.record.tables.form import Table, number, text
from asfound.weigh.ledger import STATES
from asfound.weigh.numbers import RECORDS

TABLES = (
    Table(
        name="weighing",
        one_row=True,
        columns=(
            number("eye_cap", required=True, least=1),
            text("why"),
        ),
    ),
    Table(
        name="number_weights",
        key=("verdict", "against"),
        columns=(
            text("verdict", required=True, words=("same", "consistent", "conflict")),
            text("against", required=True, words=(*RECORDS, "dates only")),
            number("lr", required=True, above=0),
            text("why"),
        ),
    ),
    Table(
        name="state_rules",
        key=("order",),
        columns=(
            number("order", required=True),
            text("statement", required=True),
            text("favours", required=True, words=("statement", "alternative")),
            number("least_lr", required=True, least=1),
            text("state", required=True, words=tuple(STATES)),
            text("why"),
        ),
    ),
    Table(
        name="priors",
        key=("subject", "statement", "alternative"),
        columns=(
            text("subject", required=True),
            text("statement", required=True),
            text("alternative", required=True),
            number("prior", required=True, above=0, below=1),
            text("reason", required=True),
        ),
    ),
)
