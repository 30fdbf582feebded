"""``asfound money``: what the car was to cost, costs so far, and what remains."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import click

from asfound.base import NotEnoughEvidenceError
from asfound.cli.show import folder_argument, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.record.convert.money import CarAccount, account_of
from asfound.record.results.money import NAMED, figures_json, money_json, written

_HEAD = ("estimate", "committed", "actual", "remaining", "forecast")


@click.command()
@folder_argument
@json_option
@click.option(
    "--by",
    type=click.Choice(("piece", "trade", "supplier", "change")),
    default="piece",
    show_default=True,
    help="What the sums are told by.",
)
def money(folder: Path, as_json: bool, by: str) -> None:
    """Tell estimate, committed, actual and what remains of the car in FOLDER."""
    car = read_folder(folder)
    if not any(len(car.sheet(name)) for name in ("purchases", "charge_rates")):
        raise NotEnoughEvidenceError(
            "No rate and no document is there; write charge_rates.csv or purchases.csv."
        )
    account = account_of(car, now=datetime.now(tz=UTC))
    if as_json:
        print_json(money_json(account))
    else:
        click.echo("\n\n".join(_in_words(account, by)))


def _in_words(account: CarAccount, by: str) -> Iterator[str]:
    sums = account.statement.sums(by)  # type: ignore[arg-type]  # one of the choices above
    rows = [(name or NAMED[by], figures) for name, figures in sums.items()]
    rows.append(("the car", account.statement.total))
    yield table(
        (f"{account.currency}, without tax, by {by}", *_HEAD),
        ((name, *figures_json(one, account.digits).values()) for name, one in rows),
        align="lrrrrr",
    )
    charged = account.charged
    yield (
        f"Done and bought so far {written(charged.net, account.digits)}, with tax "
        f"{written(charged.gross, account.digits)}; paid {written(account.paid, account.digits)}, "
        f"due {written(account.due, account.digits)} {account.currency}."
    )
    if account.not_valued:
        yield "Not counted:\n" + "\n".join(f"  {words}" for words in account.not_valued)
