"""``asfound demo``: everything once, on an invented car."""

from __future__ import annotations

from pathlib import Path

import click

from asfound import site, workers


@click.command()
@click.option("--no-serve", is_flag=True, help="End after writing, without serving the pages.")
@site.host_option
@site.port_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder for the car folder and the dossier; `demo` in the home of asfound if not given.",
)
@workers.option
def demo(no_serve: bool, host: str, port: int, out: Path | None, workers_n: int) -> None:
    """Read, choose, write the dossier and serve the pages, on an invented car.

    A second run finds the car as you left it, and sets new passwords.
    """
    site.setup()
    site.migrate()
    from asfound.demo import show  # noqa: PLC0415 - needs Django set up

    accounts = show.show_car(out)
    if no_serve:
        show.show_accounts(accounts, "`asfound serve` opens the pages")
        return
    with site.at_work(), workers.beside(workers_n):
        server = site.server(host=host, port=port)
        show.show_accounts(accounts, server.address)
        click.echo("\nCtrl-C ends the pages.")
        server.run()
    click.echo("\nThe pages are closed; `asfound demo` opens them again.")
