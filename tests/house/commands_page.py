"""The reference of the commands, from what each of them says of itself.

Run: PYTHONPATH=src .venv/bin/python -m tests.house.commands_page > docs/reference/commands.md
"""

from __future__ import annotations

import inspect
import pkgutil
from collections.abc import Iterator

import click

from asfound.__main__ import COMMANDS

_HEAD = """# The commands

What `asfound COMMAND --help` tells. Results stand on standard output, talk on standard error.
Every command leaves with 0 when it is done, 2 for wrong use, 3 where the input is at fault (file,
row, value, rule and remedy are told), 4 where no answer exists (the reason is in the JSON), 5 for
a fault of the program, and 130 where it was ended with Ctrl-C."""


def commands_page() -> str:
    """The page, a section a command."""
    sections = (_section(name, place) for name, (_, place) in sorted(COMMANDS.items()))
    return "\n\n".join([_HEAD, *sections]) + "\n"


def _section(name: str, place: str) -> str:
    command: click.Command = pkgutil.resolve_name(place)
    context = click.Context(command, info_name=f"asfound {name}")
    usage = " ".join(command.collect_usage_pieces(context))
    told = " ".join(inspect.cleandoc(command.help or "").replace("\n\n", " ").split())
    return "\n".join(
        [f"## `asfound {name}`", "", f"`asfound {name} {usage}`", "", told, *_options(command)]
    )


def _options(command: click.Command) -> Iterator[str]:
    options = [one for one in command.params if isinstance(one, click.Option) and not one.hidden]
    if options:
        yield from ("", "| option | does |", "|---|---|")
    for one in options:
        names = ", ".join([*one.opts, *one.secondary_opts])
        given = "" if one.is_flag else f" {one.metavar or _kind(one)}"
        usual = f" (usually {one.default})" if one.show_default and not one.is_flag else ""
        yield f"| `{names}{given}` | {' '.join((one.help or '').split())}{usual} |"


def _kind(option: click.Option) -> str:
    if isinstance(option.type, click.Choice):
        return "/".join(option.type.choices)
    words = {
        "float range": "N",
        "integer range": "N",
        "integer": "N",
        "float": "N",
        "datetime": "DAY",
    }
    return words.get(option.type.name, option.type.name.upper())


if __name__ == "__main__":
    click.echo(commands_page(), nl=False)
