"""What commands share: the folder argument, JSON on standard output, progress, small tables."""

from __future__ import annotations

import json
import math
import sys
import textwrap
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

import click

folder_argument = click.argument("folder", type=click.Path(path_type=Path))
json_option = click.option(
    "--json", "as_json", is_flag=True, help="Print the result as JSON on standard output."
)
seed_option = click.option(
    "--seed",
    type=click.IntRange(min=0, max=2**31 - 1),
    default=0,
    show_default=True,
    help="Seed of every random draw.",
)


class Seconds(click.FloatRange):
    """Seconds of a search: above zero, and an end."""

    def __init__(self) -> None:
        super().__init__(min=0, max=86_400, min_open=True)

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The number; what is no number is above and below none."""
        seconds: float = super().convert(value, param, ctx)
        if math.isnan(seconds):
            self.fail(f"{value} is not a number of seconds.", param, ctx)
        return seconds


def print_json(result: Any) -> None:
    """Result on standard output, nothing else with it."""
    click.echo(json.dumps(result, indent=1, ensure_ascii=False, allow_nan=False))


def progress(label: str) -> Callable[[float], None] | None:
    """A line that counts up on a terminal; nothing where nobody watches."""
    if not sys.stderr.isatty():
        return None

    def show(done: float) -> None:
        end = "\n" if done >= 1 else ""
        click.echo(f"\r{label} {done:4.0%}{end}", err=True, nl=False)

    return show


def table(head: Sequence[str], rows: Iterable[Sequence[str]], *, align: str) -> str:
    """Rows as text; ``align`` has a letter a column, ``l`` for left and ``r`` for right."""
    lines = [tuple(head), *(tuple(row) for row in rows)]
    widths = [max(len(line[i]) for line in lines) for i in range(len(head))]
    return "\n".join(
        "  ".join(
            cell.rjust(width) if side == "r" else cell.ljust(width)
            for cell, width, side in zip(line, widths, align, strict=True)
        ).rstrip()
        for line in lines
    )


def indented(text: str) -> str:
    """Text as a paragraph below what it belongs to."""
    return textwrap.fill(text, width=88, initial_indent="  ", subsequent_indent="  ")
