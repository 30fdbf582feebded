"""Cautions that apply, and what is not known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from asfound.craft.cautions import DEFER, cautions_for
from asfound.dossier.account.metal import not_told
from asfound.dossier.computed import Computed
from asfound.dossier.numbers import share
from asfound.measure.film import FilmReading
from asfound.record.folder import CarFolder
from asfound.record.results.polish import area_name
from asfound.weigh import weight_in_words

_TEXTS = (
    ("parts", ("part", "name", "section")),
    ("panels", ("panel",)),
    ("options", ("subject", "treatment", "option")),
    ("findings", ("subject", "kind")),
    ("tasks", ("name",)),
)
_TABLES_MISSED = {
    "identifiers": "the car's numbers were not read",
    "film": "the finish was not measured",
    "metal": "the metal was not measured",
    "colour": "the colour was not measured",
    "gaps": "the gaps were not measured",
    "findings": "the condition was not written down",
    "evidence": "nothing was weighed for or against the originality of pieces",
    "events": "no history was written down",
    "options": "no treatments were proposed",
}


def about_cautions(car: CarFolder) -> dict[str, Any]:
    """Dangers that the car's words call for, with their sources."""
    words = [
        row.text(column)
        for table, columns in _TEXTS
        for row in car.sheet(table)
        for column in columns
    ]
    words += ["polish"] if len(car.sheet("polish")) else []
    return {
        "defer": DEFER,
        "rows": [[c.hazard, c.where, c.do, c.source, c.basis] for c in cautions_for(words)],
    }


def about_unknowns(car: CarFolder, computed: Computed) -> list[str]:
    """Sentences on what nobody measured, what the measurements leave open, and why."""
    return [
        *_missing_tables(car),
        *([computed.reading_missing] if computed.reading_missing else []),
        *(_of_finish(car, computed.reading) if computed.reading else []),
        *_of_metal(computed),
        *_of_polish(computed),
        *_of_history(computed),
        *([computed.originality_missing] if computed.originality_missing else []),
        *_of_choice(computed),
    ]


def _missing_tables(car: CarFolder) -> Iterator[str]:
    for table, words in _TABLES_MISSED.items():
        if not len(car.sheet(table)):
            yield f"{words[0].upper()}{words[1:]} ({table}.csv is missing or empty)."


def _of_finish(car: CarFolder, reading: FilmReading) -> Iterator[str]:
    blank = [p.panel for p in reading.panels if p.spots_n == 0]
    if blank:
        yield f"No readings were taken on: {', '.join(blank)}. Nothing is said of them."
    read = [p for p in reading.panels if p.spots_n]
    neutral = [p.panel for p in read if weight_in_words(p.lr_later_work).favours == "neither"]
    if neutral:
        yield (
            "Neutral, neither for nor against undisturbed since built, are the readings on:"
            f" {', '.join(neutral)}."
        )
    shimmed = {row.text("gauge") for row in car.sheet("shims")}
    loose = [g.gauge or "the gauge without a name" for g in reading.gauges]
    loose = [name for name, g in zip(loose, reading.gauges, strict=True) if g.gauge not in shimmed]
    if loose:
        yield (
            f"No shim readings are there for: {', '.join(loose)}. Its readings stand as shown,"
            " with a doubt to match."
        )
    yield from _prior(reading)
    yield (
        "A probability of later work depends on that starting probability; the words of support"
        " rest on the likelihood ratio alone."
        if list(_prior(reading))
        else "A probability of later work depends on a starting probability that the program"
        " assumes; the words of support rest on the likelihood ratio alone."
    )
    yield (
        "A finish that was renewed everywhere in one even coat cannot be told by its thickness"
        " from one undisturbed since built. Thickness alone proves neither."
    )


def _prior(reading: FilmReading) -> Iterator[str]:
    """The starting probability that the panels' results imply, where they share one."""
    implied = [_implied(p.p_later_work, p.lr_later_work) for p in reading.panels if p.spots_n]
    known = [p for p in implied if p is not None]
    if known and max(known) - min(known) < 0.02:
        prior = share(sum(known) / len(known))
        yield (
            f"Before its own readings are weighed, later work on a panel is given {prior}, from"
            " the program's assumption and the rest of the car."
        )


def _implied(posterior: float, lr: float) -> float | None:
    if not 0.001 < posterior < 0.999:
        return None
    odds = posterior / (1 - posterior) / lr
    return odds / (1 + odds)


def _of_metal(computed: Computed) -> Iterator[str]:
    if computed.metal_missing:
        yield computed.metal_missing
    blind = not_told(computed.metal) if computed.metal else []
    if blind:
        yield (
            f"No loss of metal can be told on: {', '.join(blind)}. The method's error exceeds it,"
            " or the sheet when new is not known; the metal may be whole."
        )


def _of_polish(computed: Computed) -> Iterator[str]:
    """Areas whose floor is a guess, or that have none."""
    if computed.polish_missing:
        yield computed.polish_missing
    areas = computed.polish.areas if computed.polish else ()
    guessed = [
        area_name(a.panel, a.area) for a in areas if a.floor and a.floor.floor.basis == "guess"
    ]
    if guessed:
        yield f"How thin the film may become is a guess on: {'; '.join(guessed)}."
    bare = [area_name(a.panel, a.area) for a in areas if a.floor is None]
    if bare:
        yield f"No floor is set, so nothing is said of what may still come off: {'; '.join(bare)}."


def _of_history(computed: Computed) -> Iterator[str]:
    """Papers that clash: when those things happened is open."""
    if computed.history_missing:
        yield computed.history_missing
    clashes = computed.history.clashes if computed.history else ()
    if clashes:
        count = "One clash" if len(clashes) == 1 else f"{len(clashes)} clashes"
        told = "; ".join(", ".join(sorted(c.events) or c.links) for c in clashes)
        yield f"{count} of dates stayed open, told with the history: {told}."


def _of_choice(computed: Computed) -> Iterator[str]:
    if computed.decided is None or computed.decided.choice is None:
        return
    yield (
        "Shares kept, grades, costs and hours of the options are estimates by people; the choice"
        " is exact for these numbers and no better than they are."
    )
    if not computed.decided.choice.proved:
        yield "The choice was not proved best within the time given."
