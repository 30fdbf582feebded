"""``asfound tables``: what a car folder may hold."""

from __future__ import annotations

import click

from asfound.cli.app import command
from asfound.exchange import tables_markdown


@command()
def tables() -> None:
    """Print the tables of a car folder with their columns, units and rules, as Markdown."""
    click.echo(tables_markdown(), nl=False)
