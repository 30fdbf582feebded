"""``asfound serve`` and ``account``: the pages and who may sign in."""

from __future__ import annotations

import click

from asfound import site
from asfound.cli.app import app, say

ROLES = ("head", "craftsperson", "owner")


@app.command()
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", type=click.IntRange(0, 65535), default=8000, show_default=True)
def serve(host: str, port: int) -> None:
    """Serve the pages until Ctrl-C."""
    site.setup()
    site.migrate()
    server = site.server(host=host, port=port)
    say(f"asfound is at {server.address} – Ctrl-C ends it")
    server.run()


@app.command()
@click.argument("name")
@click.option("--role", type=click.Choice(ROLES), required=True)
@click.option("--car", "slugs", multiple=True, help="A car that this owner may see; repeatable.")
@click.password_option()
def account(name: str, role: str, slugs: tuple[str, ...], password: str) -> None:
    """Make an account for NAME, or give an owner another car."""
    site.setup()
    site.migrate()
    from asfound.record.actions import create_account, grant_owner  # noqa: PLC0415 - needs Django
    from asfound.record.models import Car  # noqa: PLC0415

    person = create_account(username=name, role=role, password=password, by=None)
    for car in Car.objects.filter(slug__in=slugs):
        grant_owner(car=car, owner=person, by=None)
    click.echo(f"{name} may sign in as {role}")
