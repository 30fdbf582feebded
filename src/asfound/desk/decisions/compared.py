"""Variants side by side: what they come to, and the pieces on which they differ."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from asfound.choose import Problem
from asfound.desk.templatetags.desk import money, share, trimmed

NOW = "as chosen now"


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One variant in the comparison; ``pk`` is none for the choice as it stands now."""

    pk: int | None
    name: str
    options: Mapping[str, str]
    sums: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedLine:
    """One row of the comparison: its cells in the order of the sides."""

    name: str
    zone: str
    begun: str = ""
    cells: tuple[str, ...]


def sum_lines(sides: Sequence[Side], *, currency: str) -> list[ComparedLine]:
    """What each variant comes to: fabric, money, weeks, hours and finish."""
    rows: tuple[tuple[str, Callable[[Mapping[str, Any]], str]], ...] = (
        ("original fabric kept", lambda s: share(s["kept"])),
        ("cost", lambda s: money(s["cost"], currency)),
        ("weeks, at least", lambda s: "not known" if s["weeks"] is None else trimmed(s["weeks"])),
        ("hours of work", lambda s: trimmed(sum(s["hours"].values()))),
        ("finish, in the mean of 5", lambda s: trimmed(s["mean_grade"])),
        ("lowest finish", lambda s: trimmed(s["lowest_grade"])),
    )
    return [
        ComparedLine(name=name, zone="", cells=tuple(told(side.sums) for side in sides))
        for name, told in rows
    ]


def differing_lines(sides: Sequence[Side], problem: Problem) -> list[ComparedLine]:
    """Pieces on which the variants differ, by zone and name."""
    treatments = {(o.subject, o.option): o.treatment for o in problem.options}
    lines = []
    for subject in sorted(problem.subjects, key=lambda s: (s.zone, s.subject)):
        chosen = [side.options.get(subject.subject, "") for side in sides]
        if len(set(chosen)) > 1:
            cells = tuple(_told(subject.subject, option, treatments) for option in chosen)
            line = ComparedLine(
                name=subject.subject, zone=subject.zone, begun=subject.begun, cells=cells
            )
            lines.append(line)
    return lines


def _told(subject: str, option: str, treatments: Mapping[tuple[str, str], str]) -> str:
    treatment = treatments.get((subject, option))
    if treatment is None:
        return f"{option} (no longer an option)" if option else "not in it"
    return treatment if treatment == option else f"{treatment}: {option}"
