"""What was found on a car, its opinions apart: the body of a condition record.

The order of the sections follows EN 16095 (Conservation of cultural property: condition recording
for movable cultural heritage) as it is remembered; the standard's text was not at hand. The words
are our own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from asfound.craft.cautions import DEFER, cautions_for
from asfound.craft.conditions import MOST_SEVERE, SEVERITIES
from asfound.dossier.account.numbered import ordered
from asfound.dossier.account.survey import when_and_by
from asfound.dossier.figures import Numbered
from asfound.dossier.numbers import MISSING
from asfound.record.convert.findings import findings_of
from asfound.record.folder import CarFolder, Row

ORDER = (
    "The order follows EN 16095 (condition recording for movable cultural heritage), from memory;"
    " the words are the program's own."
)
APART = (
    "An opinion is its author's and stands apart: the observations hold without it, and another"
    " person may judge them otherwise."
)
MEANS = "By eye and by hand where a finding says nothing else."
MOST_UNSEEN = 40


def about_findings(car: CarFolder, *, subject: str = "") -> dict[str, Any] | None:
    """Findings by part and panel, opinions, advice and cautions; ``None`` where nothing was found.

    Parameters
    ----------
    car : CarFolder
    subject : str
        Only those on this part or panel; empty for the whole car.
    """
    there = ordered(car, subject=subject)
    if not there:
        return None
    names = names_of(car)
    rows = [row for row in car.sheet("findings") if subject in ("", row.text("subject"))]
    groups: dict[str, list[Numbered]] = {}
    for one in there:
        groups.setdefault(one.finding.subject, []).append(one)
    return {
        "findings_n": len(there),
        "subjects_n": len(groups),
        "taken": when_and_by(rows, at="found_on", by="found_by"),
        "means": MEANS,
        "order": ORDER,
        "scale": [[str(s.grade), s.word, s.says] for s in SEVERITIES],
        "tally": [[s.word, str(_count(there, s.grade))] for s in SEVERITIES],
        "groups": [
            {"subject": name, "name": names.get(name, name), "rows": [_observed(n) for n in group]}
            for name, group in groups.items()
        ],
        "apart": APART,
        "opinions": [line for one in there if (line := _opinion(one, names))],
        "advice": [line for one in there if (line := _advice(one, names))],
        "grave": [_told(one, names) for one in there if one.finding.step.grade >= MOST_SEVERE],
        "cautions": list(_cautions(there, names)),
        "defer": DEFER,
    }


def names_of(car: CarFolder) -> dict[str, str]:
    """Words for parts by their number; a panel is called by its own name."""
    return {
        row.text("part"): f"{row.text('name')} ({row.text('part')})"
        if row.text("name") and row.text("name").casefold() != row.text("part").casefold()
        else row.text("name") or row.text("part")
        for row in car.sheet("parts")
    }


def unseen(car: CarFolder) -> list[str]:
    """Panels and parts on which nothing was written down, in the order of the tables."""
    found = {finding.subject for finding in findings_of(car)}
    names = names_of(car)
    panels = [row.text("panel") for row in car.sheet("panels")]
    parts = [row.text("part") for row in car.sheet("parts") if not row.text("fate")]
    return [names.get(name, name) for name in dict.fromkeys([*panels, *parts]) if name not in found]


def subject_facts(car: CarFolder, subject: str) -> list[list[str]]:
    """What the record says of a part or panel besides its findings."""
    part = _row(car, "parts", "part", subject)
    panel = _row(car, "panels", "panel", subject)
    facts = [*(_of_part(part) if part else ()), *(_of_panel(panel) if panel else ())]
    return [[name, text] for name, text in facts if text]


def earlier_treatment(car: CarFolder, subject: str = "") -> list[list[str]]:
    """Dated works on a part or panel, or on the car, as the history tells them."""
    return [
        [row.text("event"), _when(row), row.text("note") or MISSING]
        for row in car.sheet("events")
        if subject in ("", row.text("subject"))
    ]


def _when(row: Row) -> str:
    """Interval of an event in words; a day is not known where none is written."""
    after, before = row.text("not_before"), row.text("not_after")
    if after and before:
        return after if after == before else f"not before {after}, not after {before}"
    if after:
        return f"not before {after}"
    return f"not after {before}" if before else "not known"


def _row(car: CarFolder, table: str, key: str, name: str) -> Row | None:
    return next((row for row in car.sheet(table) if row.text(key) == name), None)


def _of_part(row: Row) -> Iterator[tuple[str, str]]:
    yield "Part", row.text("name")
    yield "Number", row.text("part")
    yield "Tag", row.text("tag")
    yield "Kind", row.text("kind")
    yield "Belongs to", row.text("parent")
    yield "On the car", row.text("section")
    yield "State", row.text("state") or "undetermined"
    yield "Condition in a word", row.text("condition")
    yield "Mass", f"{row.text('mass_kg')} kg" if row.text("mass_kg") else ""
    yield "Fixed with", row.text("fixed_with")
    yield "Significance", f"{row.text('significance')} of 5" if row.text("significance") else ""
    yield "Bears on safety", row.text("safety")
    yield "Place", row.text("place")
    yield "Note", row.text("note")


def _of_panel(row: Row) -> Iterator[tuple[str, str]]:
    yield "Panel", row.text("panel")
    yield "View", row.text("section")
    yield "Made of", row.text("substrate")


def _observed(one: Numbered) -> list[str]:
    found = one.finding
    extent = " · ".join(filter(None, (found.extent, found.place_words)))
    severity = f"{found.step.grade} {found.step.word}"
    return [str(one.number), found.kind, extent, severity, found.note or MISSING, found.opened]


def _opinion(one: Numbered, names: dict[str, str]) -> list[str]:
    said = one.finding.opinion
    if said is None or not (said.says or said.active_words):
        return []
    who = ", ".join(filter(None, (said.by or "person not recorded", said.on)))
    return [_on(one, names), said.says or MISSING, said.active_words or "not known", who]


def _advice(one: Numbered, names: dict[str, str]) -> list[str]:
    said = one.finding.opinion
    if said is None or not said.advice:
        return []
    return [_on(one, names), said.advice, said.by or "person not recorded"]


def _on(one: Numbered, names: dict[str, str]) -> str:
    found = one.finding
    return f"{one.number} {found.kind}, {names.get(found.subject, found.subject)}"


def _told(one: Numbered, names: dict[str, str]) -> str:
    return f"{_on(one, names)}: {one.finding.extent}"


def _count(there: Sequence[Numbered], grade: int) -> int:
    return sum(one.finding.step.grade == grade for one in there)


def _cautions(there: Sequence[Numbered], names: dict[str, str]) -> Iterator[list[str]]:
    """Dangers that the findings' own words call for."""
    words = [
        text
        for one in there
        for text in (
            names.get(one.finding.subject, one.finding.subject),
            one.finding.kind,
            one.finding.note,
        )
    ]
    for caution in cautions_for(words):
        if caution.called_by:
            yield [caution.hazard, caution.where, caution.do]
