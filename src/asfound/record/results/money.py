"""The account of a car as JSON and as lines; amounts are texts, so that no digit is lost."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from asfound.plan.money import BY, Figures, Standing
from asfound.record.convert.money import CarAccount
from asfound.record.folder import Sheet

LINE_COLUMNS = (
    *("measure", "piece", "trade", "supplier", "change_order", "what"),
    *("amount", "tax_percent", "currency"),
)
NAMED = {
    "piece": "",
    "trade": "material and outside",
    "supplier": "the workshop",
    "change": "as first agreed",
}
"""What the group without a name is called."""


def money_json(account: CarAccount) -> dict[str, Any]:
    """Account as the command line gives it."""
    charged = account.charged
    return {
        "currency": account.currency,
        "total": figures_json(account.statement.total, account.digits),
        **{
            f"by_{by}": {
                name: figures_json(figures, account.digits)
                for name, figures in account.statement.sums(by).items()
            }
            for by in BY
        },
        "charged": {
            "net": written(charged.net, account.digits),
            "tax": [
                {"percent": f"{one.percent.normalize():f}"}
                | {"net": written(one.net, account.digits)}
                | {"tax": written(one.tax, account.digits)}
                for one in charged.rates
            ],
            "gross": written(charged.gross, account.digits),
            "paid": written(account.paid, account.digits),
            "due": written(account.due, account.digits),
        },
        "documents": [_document_json(one, account.digits) for one in account.documents],
        "not_valued": list(account.not_valued),
    }


def figures_json(figures: Figures, digits: int) -> dict[str, str]:
    """The four measures and what they forecast."""
    names = ("estimate", "committed", "actual", "remaining", "forecast")
    return {name: written(getattr(figures, name), digits) for name in names}


def written(amount: Decimal, digits: int) -> str:
    """Amount with the decimals of its currency."""
    return f"{amount:.{digits}f}"


def lines_sheet(account: CarAccount) -> Sheet:
    """Every entry of the account as a row: what the sums are made of, as charged."""
    return Sheet(
        columns=LINE_COLUMNS,
        rows=tuple(
            (
                *(str(e.measure), e.piece, e.trade, e.supplier, e.change, e.what),
                *(written(e.amount, account.digits), f"{e.percent:f}", account.currency),
            )
            for e in account.statement.entries
        ),
    )


def owner_lines(account: CarAccount) -> Sheet:
    """Amounts as an owner is told them: by piece, trade and change order, no supplier named."""
    sums: dict[tuple[str, ...], Decimal] = {}
    for e in account.statement.entries:
        key = (str(e.measure), e.piece, e.trade, e.change, f"{e.percent.normalize():f}")
        sums[key] = sums.get(key, Decimal(0)) + e.amount
    return Sheet(
        columns=("measure", "piece", "trade", "change_order", "tax_percent", "amount", "currency"),
        rows=tuple(
            (*key, written(amount, account.digits), account.currency)
            for key, amount in sums.items()
        ),
    )


def _document_json(standing: Standing, digits: int) -> dict[str, Any]:
    one = standing.document
    return {
        "kind": str(one.kind),
        "supplier": one.supplier,
        "number": one.number,
        "dated": one.day,
        "net": written(one.net, digits),
        "open": written(sum(standing.open_net.values(), Decimal(0)), digits),
        "standing": standing.words,
    }
