"""``asfound serve``, ``worker``, ``account``: pages, the work beside them, who may sign in."""

from __future__ import annotations

import signal
import sys
from typing import NoReturn

import click

from asfound import site, workers
from asfound.cli.app import command, say

ROLES = ("head", "craftsperson", "owner")


@command()
@site.host_option
@site.port_option
@workers.option
def serve(host: str, port: int, workers_n: int) -> None:
    """Serve the pages until Ctrl-C, with a worker beside them for what takes long."""
    signal.signal(signal.SIGTERM, _end)  # as a service manager ends it
    site.setup()
    site.migrate()
    with site.at_work(), workers.beside(workers_n):
        server = site.server(host=host, port=port)
        say(f"asfound is at {server.address} – Ctrl-C ends it")
        server.run()


@command()
@click.option(
    "--workers",
    "workers_n",
    type=click.IntRange(1, 64),
    default=1,
    show_default=True,
    help="Processes that work side by side.",
)
@click.option("--beside", is_flag=True, hidden=True, help="Work here, until the parent ends.")
def worker(workers_n: int, beside: bool) -> None:
    """Work out what the pages ask for, until Ctrl-C; for pages served with --workers 0."""
    signal.signal(signal.SIGTERM, _end)
    site.setup()
    if beside:
        workers.work_beside()
    site.migrate()
    with workers.beside(workers_n):
        say(f"{workers_n} worker{'s' if workers_n > 1 else ''} for {site.home()} – Ctrl-C ends it")
        workers.wait()


def _end(_number: int, _frame: object) -> NoReturn:
    sys.exit(0)


@command()
@click.argument("name")
@click.option(
    "--role", type=click.Choice(ROLES), required=True, help="What the account may see and write."
)
@click.option("--car", "slugs", multiple=True, help="A car that this owner may see; repeatable.")
@click.password_option(help="Asked for, unseen, if not given.")
def account(name: str, role: str, slugs: tuple[str, ...], password: str) -> None:
    """Make an account for NAME."""
    site.setup()
    site.migrate()
    from django.db import transaction  # noqa: PLC0415 - needs Django set up

    from asfound.record.actions import create_account, grant_owner  # noqa: PLC0415
    from asfound.record.models import Car  # noqa: PLC0415

    unknown = set(slugs) - set(Car.objects.values_list("slug", flat=True))
    if unknown:
        raise click.BadParameter(f"the record has no car {', '.join(sorted(unknown))}")
    with transaction.atomic():
        person = create_account(username=name, role=role, password=password, by=None)
        for car in Car.objects.filter(slug__in=slugs):
            grant_owner(car=car, owner=person, by=None)
    click.echo(f"{name} may sign in as {role}")


@command()
@click.argument("name")
@click.argument("car")
def grant(name: str, car: str) -> None:
    """Let the owner NAME see the CAR of the record."""
    site.setup()
    site.migrate()
    from asfound.record.actions import grant_owner  # noqa: PLC0415 - models need Django set up
    from asfound.record.models import Car, Person  # noqa: PLC0415

    person = Person.objects.filter(user__username=name).first()
    stored = Car.objects.filter(slug=car).first()
    if person is None or stored is None:
        raise click.BadParameter(f"the record has no {'account' if person is None else 'car'}")
    grant_owner(car=stored, owner=person, by=None)
    click.echo(f"{name} may see {stored}")
