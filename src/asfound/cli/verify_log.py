"""``asfound verify-log``: whether the log of writes is as it was written."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import click

from asfound import site
from asfound.cli.app import INPUT_AT_FAULT, command, say

if TYPE_CHECKING:
    from asfound.record.log import Chain

_HASH = re.compile(r"[0-9a-f]{64}")


@command("verify-log")
@click.option(
    "--head",
    "heads",
    multiple=True,
    metavar="HASH",
    help="A head noted earlier, such as one printed in a dossier; repeatable.",
)
@click.option("--json", "as_json", is_flag=True, help="The result as JSON.")
def verify_log(heads: tuple[str, ...], as_json: bool) -> int:
    """Check the chain of the log of writes; ends with 3 where it is broken or cut off."""
    asked = tuple(dict.fromkeys(head.strip().lower() for head in heads))
    for head in asked:
        if not _HASH.fullmatch(head):
            raise click.BadParameter(f"{head!r} is no head: a head has 64 signs, 0-9 and a-f")
    site.setup()
    site.migrate()
    from asfound.record.log import check_chain  # noqa: PLC0415 - needs Django set up

    chain = check_chain(heads=frozenset(asked))
    lost = [head for head in asked if head not in chain.heads_met]
    if as_json:
        click.echo(json.dumps(_told(chain, lost), indent=2, ensure_ascii=False))
    else:
        _say(chain, asked, lost)
    return INPUT_AT_FAULT if chain.broken or lost else 0


def _say(chain: Chain, asked: tuple[str, ...], lost: list[str]) -> None:
    click.echo(f"lines  {chain.lines_n}\nhead   {chain.head}")
    if chain.broken:
        say(f"broken at line {chain.broken.pk}: {chain.broken}\n  {chain.wrong}")
        say("Every line before it fits. Compare with a backup from before that line.")
    elif not lost:
        click.echo("Every line fits its hash and the line before it.")
    for head in asked:
        if head not in lost:
            click.echo(f"found  {head}")
        elif chain.broken is None:
            say(f"no line bears {head}: lines that were there when it was noted are gone")
        else:
            say(f"no line before the break bears {head}")


def _told(chain: Chain, lost: list[str]) -> dict[str, Any]:
    broken = chain.broken
    return {
        "lines": chain.lines_n,
        "head": chain.head,
        "whole": broken is None and not lost,
        "broken": None
        if broken is None
        else {
            "line": broken.pk,
            "at": broken.at.isoformat(),
            "who": broken.who,
            "action": broken.action,
            "wrong": chain.wrong,
        },
        "heads_not_found": lost,
    }
