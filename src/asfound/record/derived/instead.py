"""The car with another option of one piece: what a change order would come to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from asfound.base import AsfoundError, NoSolutionError
from asfound.choose import Option, Problem, choose
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import effect_of, is_as_signed, sums_of
from asfound.record.derived.choice import choice_key_of
from asfound.record.derived.kept import kept
from asfound.record.folder import CarFolder

Progress = Callable[[float], None]
_ASKED = "it is asked for here"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One option of a piece, and what the whole car comes to with it against what is signed.

    ``change`` is none where the brief cannot be met with it; ``refusal`` says why, and ``ways``
    what would be enough. ``turns`` are the other pieces that it would turn, each with its option
    now and then; none where the brief cannot be met with what is signed, so that there is nothing
    to hold it against.
    """

    option: Option
    is_signed: bool
    is_as_signed: bool
    change: Mapping[str, Any] | None
    turns: tuple[tuple[str, str, str], ...] | None = None
    refusal: str = ""
    ways: tuple[str, ...] = ()


def choose_instead(problem: Problem, instead: Mapping[str, str]) -> Mapping[str, str]:
    """The choice with other options of some pieces, begun or not; all other locks hold.

    What is asked for is held as what was begun is: a clash does not offer to let it go.
    """
    subjects = tuple(
        replace(s, locked_option=instead[s.subject], begun=s.begun or _ASKED)
        if s.subject in instead
        else s
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
    return choice_key_of(
        "effects_of", folder, piece=piece, held=_held(piece, signed), sums=signed["sums"]
    )


def _held(piece: str, signed: Mapping[str, Any]) -> Mapping[str, Any]:
    return next((p for p in signed["pieces"] if p["subject"] == piece), {"option": ""})


def _effects(
    folder: CarFolder, piece: str, signed: Mapping[str, Any], progress: Progress | None
) -> Iterator[Effect]:
    problem, held = choice_problem(folder), _held(piece, signed)
    mine = [option for option in problem.options if option.subject == piece and option.safe]
    mine.sort(key=lambda o: (o.option != held["option"], -o.kept, o.cost))
    stands: Mapping[str, str] | None = None
    for i, option in enumerate(mine):
        if progress:
            progress(i / len(mine))
        is_signed = option.option == held["option"]
        effect = Effect(
            option=option,
            is_signed=is_signed,
            is_as_signed=is_signed and is_as_signed(held, option),
            change=None,
        )
        try:
            chosen = choose_instead(problem, {piece: option.option})
        except AsfoundError as error:
            ways = error.ways if isinstance(error, NoSolutionError) else ()
            yield replace(effect, refusal=str(error), ways=ways)
            continue
        stands = chosen if is_signed else stands
        change = effect_of(signed["sums"], sums_of(folder, problem, chosen))
        yield replace(effect, change=change, turns=_turns(piece, stands, chosen))


def _turns(
    piece: str, stands: Mapping[str, str] | None, chosen: Mapping[str, str]
) -> tuple[tuple[str, str, str], ...] | None:
    if stands is None:
        return None
    others = (subject for subject in sorted(chosen) if subject != piece)
    return tuple((s, stands[s], chosen[s]) for s in others if stands[s] != chosen[s])
