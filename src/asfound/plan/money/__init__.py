"""What a car costs: estimated, committed, actual, and what remains, each amount counted once."""

from asfound.plan.money.currency import check_currency, minor_digits, rounded
from asfound.plan.money.entry import Entry, Measure, Planned, Used, Work
from asfound.plan.money.purchase import Document, DocumentLine, Kind, Standing, standings
from asfound.plan.money.statement import (
    BY,
    By,
    Figures,
    Statement,
    state_account,
)
from asfound.plan.money.tax import TaxedAmount, TaxOfRate, Totals, amount_due, tax_totals

__all__ = [
    "BY",
    "By",
    "Document",
    "DocumentLine",
    "Entry",
    "Figures",
    "Kind",
    "Measure",
    "Planned",
    "Standing",
    "Statement",
    "TaxOfRate",
    "TaxedAmount",
    "Totals",
    "Used",
    "Work",
    "amount_due",
    "check_currency",
    "minor_digits",
    "rounded",
    "standings",
    "state_account",
    "tax_totals",
]
