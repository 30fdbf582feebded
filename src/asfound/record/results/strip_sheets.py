"""The order of stripping and that of the rebuild as tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from asfound.craft.cautions import Caution
from asfound.record.convert.strip import StripQuestion
from asfound.record.folder import Sheet
from asfound.record.results.estimate import number
from asfound.record.results.rebuild import Step, bench_steps, car_steps

_CAR = "car"
_STRIP = (
    *("order", "part", "name", "assembly", "wave", "comes_off_after", "way", "risk", "hours"),
    *("people", "new_fixings", "take_care", "note", "off_on", "on_again"),
)
_REBUILD = (
    *("order", "where", "part", "name", "state", "on_again", "waits_for", "after", "before"),
    *("people", "mass_kg", "new_fixings", "take_care", "note"),
)


def strip_sheet(question: StripQuestion) -> Sheet:
    """Pieces that are off, then those that come off in their order, one a row."""
    off = [part for part in question.assembly.named if part in question.off]
    waves = {part: i for i, several in enumerate(question.waves, 1) for part in several}
    rows = (
        (str(i), *_removal(question, part, waves.get(part)))
        for i, part in enumerate([*off, *question.left, *question.stuck], start=1)
    )
    return Sheet(columns=_STRIP, rows=tuple(rows))


def _removal(question: StripQuestion, part: str, wave: int | None) -> tuple[str, ...]:
    removal = question.removals[part]
    joints = [j for j in question.assembly.joints if j.piece == part]
    return (
        part,
        removal.name,
        question.groups[part],
        "" if wave is None else str(wave),
        _several(j.after for j in joints),
        _several(dict.fromkeys(j.way for j in joints if j.way)),
        str(number(question.assembly.named[part].risk)),
        "" if removal.hours is None else f"{removal.hours:g}",
        str(removal.people),
        "yes" if removal.single_use else "",
        _care(removal.cautions),
        removal.note,
        removal.off_on,
        removal.on_again,
    )


def rebuild_sheet(question: StripQuestion) -> Sheet:
    """Steps on each bench, then those on the car, one a row; ``where`` tells which."""
    return Sheet(columns=_REBUILD, rows=tuple(_steps(question)))


def _steps(question: StripQuestion) -> Iterator[tuple[str, ...]]:
    for where, steps in [*bench_steps(question), (_CAR, car_steps(question))]:
        for i, step in enumerate(steps, start=1):
            yield (str(i), where, *_step(step))


def _step(step: Step) -> tuple[str, ...]:
    return (
        step.part,
        step.name,
        step.state,
        step.on_again,
        _several(step.waits_for),
        _several(step.after),
        _several(step.before),
        str(step.people),
        step.mass,
        "yes" if step.single_use else "",
        _care(step.cautions),
        _several(step.notes),
    )


def _care(cautions: Iterable[Caution]) -> str:
    return _several(caution.do for caution in cautions)


def _several(words: Iterable[str]) -> str:
    return "; ".join(words)
