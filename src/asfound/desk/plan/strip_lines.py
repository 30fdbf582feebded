"""The order of stripping as rows: what a page tells of each piece beside the drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from asfound.record.convert.strip import Removal, StripQuestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A piece that holds or hides another, or is held or hidden by it."""

    part: str
    name: str
    told: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLine:
    """One piece in the order of stripping."""

    removal: Removal
    group: str
    wave: int | None
    risk: str
    is_off: bool
    after: tuple[Held, ...]
    frees: tuple[Held, ...]


def strip_lines(question: StripQuestion, parts: Iterable[str]) -> list[StripLine]:
    """Lines of some pieces, with all that each waits for and frees."""
    wave = {name: i for i, names in enumerate(question.waves, start=1) for name in names}
    after, frees = _both_ways(question)
    return [
        StripLine(
            removal=question.removals[part],
            group=question.groups[part],
            wave=wave.get(part),
            risk=f"{question.assembly.named[part].risk:.2f}",
            is_off=part in question.off,
            after=tuple(after.get(part, ())),
            frees=tuple(frees.get(part, ())),
        )
        for part in parts
    ]


def _both_ways(
    question: StripQuestion,
) -> tuple[Mapping[str, list[Held]], Mapping[str, list[Held]]]:
    after: dict[str, list[Held]] = {}
    frees: dict[str, list[Held]] = {}
    for joint in question.assembly.joints:
        words = _told(question, joint.piece, joint.after, joint.way)
        after.setdefault(joint.piece, []).append(_held(question, joint.after, words))
        frees.setdefault(joint.after, []).append(_held(question, joint.piece, words))
    return after, frees


def _held(question: StripQuestion, part: str, words: str) -> Held:
    return Held(part=part, name=question.removals[part].name, told=words)


def _told(question: StripQuestion, part: str, after: str, way: str) -> str:
    return ", ".join(filter(None, (question.because.get((part, after), ""), way)))


def named_like(question: StripQuestion, typed: str) -> Iterator[str]:
    """Pieces that a person may mean: the number or name as typed, else all that hold the words."""
    words = typed.casefold().split()
    if not words:
        return
    names = {part: question.removals[part].name for part in question.assembly.named}
    exact = [
        p
        for p, name in names.items()
        if typed.casefold().strip() in (p.casefold(), name.casefold())
    ]
    if exact:
        yield exact[0]
        return
    yield from (p for p, n in names.items() if all(w in f"{p} {n}".casefold() for w in words))
