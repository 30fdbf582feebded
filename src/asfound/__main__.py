"""The ``asfound`` command: every command by its line, and where it is written."""

from __future__ import annotations

import os

import click

from asfound import __version__
from asfound.cli.app import Commands, run

COMMANDS = {
    "account": ("Make an account.", "asfound.cli.site:account"),
    "backup": ("Back the whole record up while it is used.", "asfound.cli.backup:backup"),
    "cars": ("List the cars of the record.", "asfound.cli.shelf:cars"),
    "check": ("Check every table of a car folder.", "asfound.cli.check:check"),
    "choose": ("Choose a treatment for every piece.", "asfound.cli.choose:choose"),
    "colour": ("Read the colour: fade, seams, places apart.", "asfound.cli.colour:colour"),
    "condition": ("Write a condition report as PDF.", "asfound.cli.condition:condition"),
    "demo": ("Show everything once, on an invented car.", "asfound.demo.command:demo"),
    "dossier": ("Write the account of a car as PDF.", "asfound.cli.dossier:dossier"),
    "dump": ("Write a car of the record as a folder.", "asfound.cli.shelf:dump"),
    "film": ("Read the film: later work, and where.", "asfound.cli.film:film"),
    "gaps": ("Say how gaps run and whether sides mirror.", "asfound.cli.gaps:gaps"),
    "grant": ("Let an owner see a car.", "asfound.cli.site:grant"),
    "history": ("Date what happened, and name what clashes.", "asfound.cli.history:history"),
    "ledger": ("Tell how much is original, and how much later.", "asfound.cli.ledger:ledger"),
    "load": ("Load a car folder into the record.", "asfound.cli.shelf:load"),
    "metal": ("Read what is left of the sheet metal.", "asfound.cli.metal:metal"),
    "money": ("Tell estimate, committed, actual, what remains.", "asfound.cli.money:money"),
    "numbers": ("Hold every mark to its record.", "asfound.cli.numbers:numbers"),
    "odometer": ("Say which readings cannot all be true.", "asfound.cli.odometer:odometer"),
    "plan": ("Plan people, bays and days; promise a day.", "asfound.cli.plan:plan"),
    "polish": ("Say what passes of polish take.", "asfound.cli.polish:polish"),
    "restore": ("Bring the record back from its backups.", "asfound.cli.backup:restore"),
    "serve": ("Serve the pages until Ctrl-C.", "asfound.cli.site:serve"),
    "sheet": ("Draw panels to scale from a few measures.", "asfound.cli.sheet:sheet"),
    "strip": ("Order how a car comes apart and together.", "asfound.cli.strip:strip"),
    "tables": ("Print the tables of a car folder.", "asfound.cli.tables:tables"),
    "tasks": ("Make tasks from the signed decisions.", "asfound.cli.tasks:tasks"),
    "verify-log": ("Check the chain of the log of writes.", "asfound.cli.verify_log:verify_log"),
    "worker": ("Work out what takes long, beside the pages.", "asfound.cli.site:worker"),
}
"""Each command's line in the list and its place; its module is loaded when it is called."""

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # matrices here are small: more threads wait


@click.group(
    cls=Commands, listed=COMMANDS, context_settings={"help_option_names": ["-h", "--help"]}
)
@click.version_option(__version__, prog_name="asfound")
def app() -> None:
    """asfound: read an old car, choose what to keep, and leave a record to trust."""


def main() -> None:
    """Entry point of the installed command."""
    run(app)


if __name__ == "__main__":
    main()
