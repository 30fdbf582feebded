"""Money: what suppliers quote and invoice, what the owner paid, and the rates that hold."""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, date, number, text

KINDS = ("estimate", "quote", "order", "invoice", "credit note")
RATES = ("charge_rates", "tax_rates", "material_prices")
"""What the workshop charges by: tables that its head keeps."""
TABLES = (
    Table(
        name="purchases",
        of_workshop=True,
        columns=(
            text("kind", required=True, words=KINDS),
            text("supplier", required=True),
            text("number", required=True),
            date("dated", required=True),
            text("subject", required=True),
            number("net", required=True),
            number("tax_percent", "%", required=True, least=0, most=100),
            text("what"),
            text("trade"),
            text("task"),
            number("charged_net"),
            number("total", least=0),
            text("currency"),
            text("follows"),
            Column(name="last", form=Form.YES_NO),
            text("change_order"),
            Column(name="paper", many=True),
            text("by"),
            text("note"),
        ),
    ),
    Table(
        name="payments",
        columns=(
            date("paid_on", required=True),
            text("kind", required=True, words=("advance", "instalment", "final", "refund")),
            number("amount", required=True, above=0),
            text("currency"),
            text("by"),
            text("note"),
        ),
    ),
    Table(
        name="charge_rates",
        of_workshop=True,
        columns=(
            text("trade", required=True),
            number("rate", "an hour", required=True, least=0),
            text("person"),
            date("from_on"),
        ),
    ),
    Table(
        name="tax_rates",
        key=("name", "from_on"),
        columns=(
            text("name", required=True),
            number("percent", "%", required=True, least=0, most=100),
            date("from_on", required=True),
            date("until_on"),
            Column(name="charged", form=Form.YES_NO),
        ),
    ),
    Table(
        name="material_prices",
        of_workshop=True,
        key=("material", "unit"),
        columns=(
            text("material", required=True),
            text("unit", required=True),
            number("price", required=True, least=0),
            text("note"),
        ),
    ),
)
