"""``asfound ledger``: how much of the car is original, later, or not known."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

import click

from asfound.base import NotEnoughEvidenceError
from asfound.cli.app import command
from asfound.cli.show import folder_argument, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.record.derived import found_ledger
from asfound.record.evidence.ledger import Ledger
from asfound.record.results.ledger import NOT_KNOWN, ledger_json, state_words
from asfound.weigh.ledger import STATES, Account, Piece


@command()
@folder_argument
@json_option
def ledger(folder: Path, as_json: bool) -> None:
    """Give every piece of the car in FOLDER its state, and tell the shares they come to."""
    car = read_folder(folder)
    if not len(car.sheet("parts")) and not len(car.sheet("panels")):
        raise NotEnoughEvidenceError("No part and no panel is listed; write parts.csv.")
    result = found_ledger(car)
    if as_json:
        print_json(ledger_json(result))
    else:
        click.echo("\n\n".join(_in_words(result)))


def _in_words(result: Ledger) -> Iterator[str]:
    accounts = (
        ("area of finish", result.by_area),
        ("parts", result.by_part),
        ("significance", result.by_significance),
    )
    rows = ((name, *_shares(account)) for name, account in accounts if account.pieces_n)
    yield table(("as found, by", *map(state_words, STATES)), rows, align="lrrrrrr")
    for name, pieces in (("part", result.parts), ("finish of", result.finish)):
        if pieces:
            yield table((name, "state", "because"), map(_piece, pieces), align="lll")
    yield "The first of these that holds decides:\n" + "\n".join(
        f"  {rule.words}" for rule in result.rules
    )
    yield textwrap.fill(NOT_KNOWN, width=88)


def _shares(account: Account) -> tuple[str, ...]:
    return tuple(f"{share.share:.0%}" for share in account.shares)


def _piece(piece: Piece) -> tuple[str, str, str]:
    part = f" ({piece.later_share:.0%} of it)" if piece.later_share < 1 else ""
    return piece.name, state_words(piece.decided.state) + part, piece.decided.because
