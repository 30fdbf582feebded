"""How commands are made and found, and the one place where an error becomes an exit code."""

from __future__ import annotations

import functools
import os
import pkgutil
import sys
import traceback
from collections.abc import Callable, Mapping
from typing import Any, NoReturn

import click

from asfound.base import AsfoundError, InputError, NoSolutionError, NotEnoughEvidenceError
from asfound.cli.show import print_json
from asfound.record.faults import InputFaultsError

DONE, WRONG_USE, INPUT_AT_FAULT, NO_ANSWER, PROGRAM_AT_FAULT = 0, 2, 3, 4, 5
INTERRUPTED = 130


class _Command(click.Command):
    """A command that says in its result, too, why there is no answer."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run; where no answer exists and JSON was asked for, the reason is the result."""
        try:
            return super().invoke(ctx)
        except (NoSolutionError, NotEnoughEvidenceError) as error:
            if ctx.params.get("as_json"):
                print_json({"impossible": [str(error)]})
            raise


command = functools.partial(click.command, cls=_Command)
"""Make a command of a function; ``asfound.__main__`` lists it."""


class Commands(click.Group):
    """A group that lists its commands by a line each, and loads one only when it is called.

    Parameters
    ----------
    listed : mapping of str to (str, str)
        By the name of a command, its line for the list and its place, ``module:function``.
    """

    def __init__(self, *, listed: Mapping[str, tuple[str, str]], **more: Any) -> None:
        super().__init__(**more)
        self._places = {name: place for name, (_, place) in listed.items()}
        for name, (line, _) in listed.items():
            self.add_command(click.Command(name, short_help=line))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Command that was called, loaded."""
        name, found, rest = super().resolve_command(ctx, args)
        if name in self._places:
            found = pkgutil.resolve_name(self._places[name])
        return name, found, rest


def run(group: click.Group, arguments: list[str] | None = None) -> NoReturn:
    """Run a command and leave with the exit code of the contract."""
    sys.exit(_code(lambda: group.main(arguments, prog_name="asfound", standalone_mode=False)))


def _code(command: Callable[[], Any]) -> int:
    try:
        result = command()
    except click.ClickException as error:
        error.show()
        return WRONG_USE
    except (click.Abort, KeyboardInterrupt):
        say("stopped; nothing was written")
        return INTERRUPTED
    except InputFaultsError as error:
        for fault in error.faults:
            say(str(fault))
        count = len(error.faults)
        say(f"{count} fault{'s' if count > 1 else ''}; nothing was taken")
        return INPUT_AT_FAULT
    except InputError as error:
        say(str(error))
        return INPUT_AT_FAULT
    except (NoSolutionError, NotEnoughEvidenceError) as error:
        say(str(error))
        return NO_ANSWER
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - for the exit's flush
        return DONE
    except AsfoundError as error:
        say(str(error))
        return PROGRAM_AT_FAULT
    except Exception as error:
        say(f"a fault of the program: {type(error).__name__}: {error}")
        if os.environ.get("ASFOUND_TRACE"):
            traceback.print_exc()
        else:
            say("nothing was written; set ASFOUND_TRACE=1 to see where it happened")
        return PROGRAM_AT_FAULT
    return result if isinstance(result, int) else DONE


def say(text: str) -> None:
    """Talk goes to standard error; results alone go to standard output."""
    click.echo(text, err=True)
