"""The car with another option of one piece: what a change order would come to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.http import Http404, HttpRequest

from asfound.base import AsfoundError
from asfound.choose import Option, Problem, choose
from asfound.record.convert.proposal import effect_of, sums_of
from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One option of a piece, and what the whole car comes to with it against what is signed.

    ``change`` is none where the brief cannot be met with it, and ``refusal`` says why.
    """

    option: Option
    is_signed: bool
    change: Mapping[str, Any] | None
    refusal: str = ""


def asked_instead(request: HttpRequest) -> tuple[str, str] | None:
    """Piece that a change order is asked for, and the option that it is to have."""
    piece, option = request.GET.get("piece", ""), request.GET.get("option", "")
    return (piece, option) if piece and option else None


def choose_instead(problem: Problem, piece: str, option: str) -> Mapping[str, str]:
    """The choice with another option of one piece, begun or not; all other locks hold."""
    if (piece, option) not in {(o.subject, o.option) for o in problem.options if o.safe}:
        raise Http404(f"{piece}: {option}")
    subjects = tuple(
        replace(s, locked_option=option, begun="") if s.subject == piece else s
        for s in problem.subjects
    )
    return choose(replace(problem, subjects=subjects)).options


def effects(
    folder: CarFolder, problem: Problem, piece: str, signed: Mapping[str, Any]
) -> Iterator[Effect]:
    """Effect of each safe option of a piece against the signed content, the signed one first."""
    held = next((p["option"] for p in signed["pieces"] if p["subject"] == piece), "")
    mine = [option for option in problem.options if option.subject == piece and option.safe]
    for option in sorted(mine, key=lambda o: (o.option != held, -o.kept, o.cost)):
        is_signed = option.option == held
        try:
            sums = sums_of(folder, problem, choose_instead(problem, piece, option.option))
        except AsfoundError as error:
            yield Effect(option=option, is_signed=is_signed, change=None, refusal=str(error))
        else:
            change = effect_of(signed["sums"], sums)
            yield Effect(option=option, is_signed=is_signed, change=change)
