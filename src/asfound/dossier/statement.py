"""The owner's statement: what was agreed, what was done and bought, what remains, what is due.

It tells what the owner is charged, and nothing of what the workshop pays or earns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from asfound import __version__
from asfound.dossier.figures.money_bars import money_svg
from asfound.dossier.files import Attached
from asfound.dossier.setting import set_pdf
from asfound.plan.money import By, Figures
from asfound.record.as_files import csv_bytes
from asfound.record.convert.money import CarAccount, paid_by
from asfound.record.folder import Sheet
from asfound.record.results.money import NAMED, owner_lines

_MAIN = "statement.typ"
_THIN = "\N{NARROW NO-BREAK SPACE}"
_BARS = 12
"""As many as stand on the first page beside what is due."""
_MEASURES = ("estimate", "actual", "committed", "remaining", "forecast")


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementHead:
    """What stands at the head of a statement.

    Parameters
    ----------
    car : str
    invented : bool
    made_on : date
    name, address : str
        Of the workshop; may be empty.
    with_tax : bool
        The sum asked for is the one with tax.
    """

    car: str
    invented: bool
    made_on: date
    name: str = ""
    address: str = ""
    with_tax: bool = True


def make_statement(
    account: CarAccount,
    *,
    head: StatementHead,
    payments: Sheet,
    changes: Sequence[tuple[str, str, str, Decimal, Decimal]] = (),
) -> bytes:
    """PDF/A-3b of the account as its owner is told it, with its lines attached as CSV.

    Parameters
    ----------
    account : CarAccount
    head : StatementHead
    payments : Sheet
        Rows of ``payments``.
    changes : sequence of tuple
        Signed change orders: number, title, day, change of hours, change of the sum.

    Returns
    -------
    bytes
        The same input gives the same bytes.
    """
    attached = [
        Attached(
            name="account.csv", data=csv_bytes(owner_lines(account)), what="lines of the account"
        )
    ]
    if len(payments):
        attached.append(
            Attached(name="payments.csv", data=csv_bytes(payments), what="what was paid")
        )
    by_piece = _sorted(account, "piece")
    figure = money_svg(
        by_piece, digits=account.digits, currency=account.currency, most=_BARS, theme="print"
    )
    data = {
        "version": __version__,
        "kind": "Statement",
        "made_on": head.made_on.isoformat(),
        "car": {"name": head.car, "invented": head.invented},
        "name": head.name,
        "address": head.address,
        "currency": account.currency,
        "head": ["", *("estimate", "done and bought", "ordered", "remains", "forecast")],
        "total": _row("the car", account.statement.total, account.digits),
        "pieces": [_row(name, f, account.digits) for name, f in by_piece],
        "trades": [_row(name, f, account.digits) for name, f in _sorted(account, "trade")],
        "changes": [
            [number, title, day, _signed(hours, 2), _signed(amount, account.digits)]
            for number, title, day, hours, amount in changes
        ],
        "figure": bool(figure),
        "figure_n": min(len(by_piece), _BARS),
        "with_tax": head.with_tax,
        **_sums(account, payments, head.with_tax),
        "attach": [f.told for f in attached],
    }
    return set_pdf(
        data,
        figures={"account.svg": figure} if figure else {},
        attached=tuple(attached),
        made_on=head.made_on,
        main=_MAIN,
    )


def _sums(account: CarAccount, payments: Sheet, with_tax: bool) -> dict[str, Any]:
    charged, digits = account.charged, account.digits
    rates = [
        [
            f"tax, {one.percent.normalize():f} % of {_money(one.net, digits)}",
            _money(one.tax, digits),
        ]
        for one in charged.rates
        if one.percent
    ]
    asked = charged.gross if with_tax else charged.net
    due = asked - account.paid
    return {
        "sums": [
            ["done and bought so far, without tax", _money(charged.net, digits)],
            *(rates if with_tax else []),
            *([["with tax", _money(charged.gross, digits)]] if with_tax else []),
            *(
                [f"{row.text('kind')}, {row.text('paid_on')}", _money(-paid_by(row.cells), digits)]
                for row in sorted(payments, key=lambda row: row.text("paid_on"))
            ),
        ],
        "due": [
            "still to pay for what was done" if due >= 0 else "paid ahead of what was done",
            _money(abs(due), digits),
        ],
    }


def _sorted(account: CarAccount, by: By) -> list[tuple[str, Figures]]:
    rows = [(name or NAMED[by], f) for name, f in account.statement.sums(by).items()]
    return sorted(rows, key=lambda row: (-row[1].forecast, row[0]))


def _row(name: str, figures: Figures, digits: int) -> list[str]:
    return [name, *(_money(getattr(figures, one), digits) for one in _MEASURES)]


def _money(amount: Decimal, digits: int) -> str:
    text = f"{amount:,.{digits}f}".replace(",", _THIN)
    return text.replace("-", "\N{MINUS SIGN}")


def _signed(amount: Decimal, digits: int) -> str:
    return ("+" if amount > 0 else "") + _money(amount, digits)
