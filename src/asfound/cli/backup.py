"""``asfound backup`` and ``restore``: the whole record kept elsewhere, and brought back."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from asfound import site
from asfound.base import InputError
from asfound.cli.app import DONE, INPUT_AT_FAULT, INTERRUPTED, command, say
from asfound.cli.show import json_option, print_json

if TYPE_CHECKING:
    from asfound.exchange.backup import Backup

T = TypeVar("T")
_NAMED = 20


@command()
@click.argument("target", type=click.Path(path_type=Path, file_okay=False))
@json_option
def backup(target: Path, as_json: bool) -> int:
    """Back the whole record up into the folder TARGET while people work.

    TARGET keeps every backup that was made into it; a photograph that it holds is not copied
    again. Ends with 3 where the backup was made, but the record itself is damaged.
    """
    site.setup()
    site.migrate()
    from asfound.exchange.backup import back_up  # noqa: PLC0415 - needs Django set up

    try:
        made = _with_room(lambda: back_up(target, progress=_progress()))
    except KeyboardInterrupt:
        say("\nstopped; there is no backup of now, and those made before are as they were")
        return INTERRUPTED
    print_json(made.as_json()) if as_json else click.echo(_told(made))
    _warn(made)
    return DONE if made.is_whole else INPUT_AT_FAULT


@command()
@click.argument("source", type=click.Path(path_type=Path, file_okay=False, exists=True))
@click.option("--backup", "name", default="", help="Name of the backup; the latest if not given.")
@click.option("--list", "as_list", is_flag=True, help="List the backups in SOURCE and end.")
@click.option("--check", is_flag=True, help="Hold every file against its hash and end.")
@click.option("--replace", is_flag=True, help="Take a record that is there out of use; it is kept.")
@click.option("--without-damaged", is_flag=True, help="Leave photographs out that are damaged.")
def restore(
    source: Path, name: str, as_list: bool, check: bool, replace: bool, without_damaged: bool
) -> int:
    """Bring the record back from the folder of backups SOURCE into an empty home."""
    site.setup()
    from asfound.exchange import backup as backups  # noqa: PLC0415 - needs Django set up

    store = backups.open_store(source)
    if as_list:
        click.echo("\n".join(_line(store.read(one)) for one in store.names()))
        return DONE
    if check:
        checked = backups.check_backup(store, name=name, progress=_progress())
        _name("damaged or gone", checked.damaged)
        click.echo(f"{checked.files_n - len(checked.damaged)} of {checked.files_n} files are whole")
        return INPUT_AT_FAULT if checked.damaged else DONE
    try:
        back = _with_room(
            lambda: backups.restore(
                store,
                name=name,
                replace=replace,
                without_damaged=without_damaged,
                progress=_progress(),
            )
        )
    except KeyboardInterrupt:
        say("\nstopped; the record is as it was")
        return INTERRUPTED
    click.echo(_told(back.backup, files_n=back.files_n))
    _name("left out, because it is damaged or gone", back.damaged)
    if back.kept:
        say(f"the record that was here is kept as {back.kept}")
    _warn(back.backup)
    return DONE


def _told(made: Backup, *, files_n: int | None = None) -> str:
    """Lines about a backup that was made, or one that was brought back with so many files."""
    if files_n is None:
        new = f"; {made.new_files_n:,} new ({made.new_bytes / 1e6:,.1f} MB)"
        files = f"{made.files_n:,} ({made.files_bytes / 1e6:,.1f} MB){new}"
    else:
        files = f"{files_n:,} of {made.files_n:,}"
    return "\n".join(
        (
            f"backup  {made.name}",
            f"tables  {sum(made.rows.values()):,} rows in {len(made.rows)} tables",
            f"log     {made.log_lines_n:,} lines, head {made.log_head}",
            f"files   {files}",
        )
    )


def _line(made: Backup) -> str:
    cars_n = made.rows.get("record_car", 0)
    return f"{made.name}  {cars_n} cars  {made.files_n:,} files  log head {made.log_head[:12]}…"


def _warn(made: Backup) -> None:
    _name("not backed up, because its bytes are not what they were", made.damaged)
    _name("the record names a file that is not there", made.missing)
    if made.log_broken_line is not None:
        say(f"the chain of the log breaks at line {made.log_broken_line}; see asfound verify-log")


def _name(what: str, hashes: Sequence[str]) -> None:
    """The first of the hashes, a line each; all of them stand in the backup's own file."""
    for sha256 in hashes[:_NAMED]:
        say(f"{what}: {sha256}")
    if len(hashes) > _NAMED:
        say(f"{what}: {len(hashes) - _NAMED:,} more")


def _with_room(work: Callable[[], T]) -> T:
    """Work whose full disk is told as something that the person can mend."""
    from asfound.record.full_disk import is_full  # noqa: PLC0415 - needs Django set up

    try:
        return work()
    except Exception as error:
        if not is_full(error):
            raise
        raise InputError(
            field="disk",
            got="full",
            allowed="large enough",
            remedy="Nothing is half-written. Make room and run it again.",
        ) from error


def _progress() -> Callable[[str, float], None] | None:
    """A line a kind of work that counts up on a terminal; nothing where nobody watches."""
    if not sys.stderr.isatty():
        return None
    shown = ""

    def show(what: str, done: float) -> None:
        nonlocal shown
        line = f"\r{what:7} {done:4.0%}" + ("\n" if done >= 1 else "")
        if line != shown:
            click.echo(line, err=True, nl=False)
        shown = line

    return show
