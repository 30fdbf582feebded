"""Steps of the rebuild in words: with their reasons, cautions and people, and how far it is."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.craft.cautions import Caution
from asfound.plan.strip import RebuildLink
from asfound.record.convert.strip import StripQuestion, people_for

ON, NEXT, OFF, NEVER_OFF = "on again", "goes on next", "off", ""
"""States of a step; the last is of what never came off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A piece, or a sub-assembly from the bench, that goes on.

    Parameters
    ----------
    part, name : str
        Its number and name; of a sub-assembly both are its name.
    is_bench : bool
    people : int
    cautions : tuple of Caution
    single_use : bool
    mass : str
        Told of a sub-assembly alone, as far as its pieces were weighed.
    after, before : tuple of str
        What the rebuild itself asks to be on before it, and what goes on after it, with why.
    notes : tuple of str
    state : str
    on_again : str
        The latest day on which one of its pieces went on again.
    waits_for : tuple of str
        Names of what is still off and goes on before it.
    """

    part: str
    name: str
    is_bench: bool
    people: int
    cautions: tuple[Caution, ...]
    single_use: bool
    mass: str
    after: tuple[str, ...]
    before: tuple[str, ...]
    notes: tuple[str, ...]
    state: str
    on_again: str
    waits_for: tuple[str, ...]


def car_steps(question: StripQuestion) -> list[Step]:
    """What goes on the car, in the order of the rebuild."""
    return [step_of(question, name) for name in question.rebuild.sequence]


def bench_steps(question: StripQuestion) -> list[tuple[str, list[Step]]]:
    """Each sub-assembly with its pieces in the order in which it is made up."""
    return [
        (bench, [_step(question, part, (part,)) for part in parts])
        for bench, parts in question.rebuild.benches.items()
    ]


def step_of(question: StripQuestion, name: str) -> Step:
    """One step; a sub-assembly bears the marks of all its pieces, and their mass together."""
    return _step(question, name, question.rebuild.pieces_of(name))


def _step(question: StripQuestion, name: str, pieces: tuple[str, ...]) -> Step:
    is_bench = name in question.rebuild.benches
    removals = [question.removals[piece] for piece in pieces]
    mass_kg = sum(removal.mass_kg or 0.0 for removal in removals)
    outside = [link for link in question.links if not {link.before, link.after} <= set(pieces)]
    waits = question.rebuild.waits_for(name, question.off) if name in question.rebuild.needs else ()
    return Step(
        part=name,
        name=name if is_bench else question.removals[name].name,
        is_bench=is_bench,
        people=people_for(mass_kg) if is_bench else removals[0].people,
        cautions=tuple(dict.fromkeys(c for removal in removals for c in removal.cautions)),
        single_use=not is_bench and removals[0].single_use,
        mass=f"{mass_kg:.3g}" if is_bench and mass_kg else "",
        after=_told(question, [(k.before, k) for k in outside if k.after in pieces]),
        before=_told(question, [(k.after, k) for k in outside if k.before in pieces]),
        notes=tuple(dict.fromkeys(removal.note for removal in removals if removal.note)),
        state=_state(question, pieces, waits=bool(waits)),
        on_again=max(removal.on_again for removal in removals),
        waits_for=tuple(name_of(question, other) for other in waits),
    )


def name_of(question: StripQuestion, name: str) -> str:
    """Name of a piece; a sub-assembly's is its own."""
    return question.removals[name].name if name in question.removals else name


def tied_when_going_on(question: StripQuestion, part: str) -> list[str]:
    """What the rebuild asks for by itself of one piece, in words."""
    step = _step(question, part, (part,))
    bench = question.benches.get(part)
    return [
        *(f"after {words}" for words in step.after),
        *(f"before {words}" for words in step.before),
        *([f"made up on the bench: {bench}"] if bench else []),
    ]


def _state(question: StripQuestion, pieces: tuple[str, ...], *, waits: bool) -> str:
    if not question.off.isdisjoint(pieces):
        return OFF if waits else NEXT
    return ON if any(question.removals[piece].on_again for piece in pieces) else NEVER_OFF


def _told(question: StripQuestion, several: list[tuple[str, RebuildLink]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name_of(question, part) + _why(link) for part, link in several))


def _why(link: RebuildLink) -> str:
    told = ", ".join(filter(None, (link.why, link.note)))
    return f" ({told})" if told else ""
