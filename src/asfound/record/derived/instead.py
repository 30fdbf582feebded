"""The car with another option of one piece: what a change order would come to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from asfound.base import AsfoundError
from asfound.choose import Option, Problem, choose
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import effect_of, sums_of
from asfound.record.derived.choice import choice_key_of
from asfound.record.derived.kept import kept
from asfound.record.folder import CarFolder

Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One option of a piece, and what the whole car comes to with it against what is signed.

    ``change`` is none where the brief cannot be met with it, and ``refusal`` says why.
    """

    option: Option
    is_signed: bool
    change: Mapping[str, Any] | None
    refusal: str = ""


def choose_instead(problem: Problem, piece: str, option: str) -> Mapping[str, str]:
    """The choice with another option of one piece, begun or not; all other locks hold."""
    subjects = tuple(
        replace(s, locked_option=option, begun="") if s.subject == piece else s
        for s in problem.subjects
    )
    return choose(replace(problem, subjects=subjects)).options


def effects_of(
    folder: CarFolder, piece: str, signed: Mapping[str, Any], *, progress: Progress | None = None
) -> tuple[Effect, ...]:
    """Effect of each safe option of a piece against the signed content, the signed one first.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    StoppedError
        If ``progress`` raised it.
    """
    return kept(
        effects_key(folder, piece, signed), lambda: tuple(_effects(folder, piece, signed, progress))
    )


def effects_key(folder: CarFolder, piece: str, signed: Mapping[str, Any]) -> str:
    """Name under which :func:`effects_of` is kept."""
    held, sums = _held(piece, signed), signed["sums"]
    return choice_key_of("effects_of", folder, piece=piece, held=held, sums=sums)


def _held(piece: str, signed: Mapping[str, Any]) -> str:
    return next((str(p["option"]) for p in signed["pieces"] if p["subject"] == piece), "")


def _effects(
    folder: CarFolder, piece: str, signed: Mapping[str, Any], progress: Progress | None
) -> Iterator[Effect]:
    problem, held = choice_problem(folder), _held(piece, signed)
    mine = [option for option in problem.options if option.subject == piece and option.safe]
    for i, option in enumerate(sorted(mine, key=lambda o: (o.option != held, -o.kept, o.cost))):
        if progress:
            progress(i / len(mine))
        is_signed = option.option == held
        try:
            sums = sums_of(folder, problem, choose_instead(problem, piece, option.option))
        except AsfoundError as error:
            yield Effect(option=option, is_signed=is_signed, change=None, refusal=str(error))
        else:
            change = effect_of(signed["sums"], sums)
            yield Effect(option=option, is_signed=is_signed, change=change)
