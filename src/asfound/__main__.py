"""The ``asfound`` command: every module of cli, and the demo."""

from __future__ import annotations

from asfound.cli import (  # noqa: F401 - each registers its commands
    backup,
    check,
    choose,
    colour,
    condition,
    dossier,
    film,
    gaps,
    history,
    ledger,
    metal,
    numbers,
    odometer,
    plan,
    polish,
    sheet,
    shelf,
    site,
    strip,
    tables,
    tasks,
    verify_log,
)
from asfound.cli.app import app, run
from asfound.demo.command import demo

app.add_command(demo)


def main() -> None:
    """Entry point of the installed command."""
    run(app)


if __name__ == "__main__":
    main()
