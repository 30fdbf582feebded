"""Steps of the rebuild as a page tells them: with their reasons, cautions and people."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.craft.cautions import Caution
from asfound.plan.strip import Rebuild, RebuildLink
from asfound.record.convert.strip import StripQuestion, people_for


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A piece, or a sub-assembly from the bench, that goes on.

    ``mass`` is told of a sub-assembly alone, as far as its pieces were weighed.
    """

    name: str
    is_bench: bool
    people: int
    cautions: tuple[Caution, ...]
    single_use: bool
    mass: str
    reasons: tuple[str, ...]


def step_of(question: StripQuestion, rebuild: Rebuild, name: str) -> Step:
    """One step; a sub-assembly bears the marks of all its pieces, and their mass together."""
    is_bench = name in rebuild.benches
    pieces = rebuild.benches[name] if is_bench else (name,)
    removals = [question.removals[piece] for piece in pieces]
    mass_kg = sum(removal.mass_kg or 0.0 for removal in removals)
    reasons = (
        _reason(question, link)
        for link in question.links
        if link.after in pieces and not (is_bench and link.before in pieces)
    )
    return Step(
        name=name if is_bench else question.removals[name].name,
        is_bench=is_bench,
        people=people_for(mass_kg) if is_bench else removals[0].people,
        cautions=tuple(dict.fromkeys(c for removal in removals for c in removal.cautions)),
        single_use=not is_bench and removals[0].single_use,
        mass=f"{mass_kg:.3g}" if is_bench and mass_kg else "",
        reasons=tuple(dict.fromkeys(reasons)),
    )


def tied_when_going_on(question: StripQuestion, part: str) -> list[str]:
    """What the rebuild asks for by itself of one piece, in words."""
    after = [_reason(question, link) for link in question.links if link.after == part]
    before = [
        f"before {question.removals[link.after].name}{_why(link)}"
        for link in question.links
        if link.before == part
    ]
    bench = question.benches.get(part)
    return [*after, *before, *([f"made up on the bench: {bench}"] if bench else [])]


def _reason(question: StripQuestion, link: RebuildLink) -> str:
    return f"after {question.removals[link.before].name}{_why(link)}"


def _why(link: RebuildLink) -> str:
    told = ", ".join(filter(None, (link.why, link.note)))
    return f" ({told})" if told else ""
