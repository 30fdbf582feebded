"""The odometer of a car as ``asfound odometer --json`` prints it, and in words."""

from __future__ import annotations

from typing import Any

from asfound.weigh.odometer import (
    KM_IN,
    SOURCE,
    Change,
    OdometerResult,
    Span,
    Story,
    Unit,
    YearlyRate,
    rates_of,
)

BAND = (
    "Rates a year stand beside a published average as a band of plausibility only: cars kept for "
    "pleasure are driven less, hired ones more, and neither proves a reading."
)
FROM_NEW = "The first instrument is taken to have counted from the car's first day."


def odometer_json(result: OdometerResult) -> dict[str, Any]:
    """Result with every story in words and both units."""
    unit = result.readings[-1].unit
    return {
        "consistent": not result.clashes,
        "readings": [reading.name for reading in result.readings],
        "clashes": [
            {"readings": [r.name for r in clash.readings], "why": clash.why}
            for clash in result.clashes
        ],
        "to_doubt": [[r.name for r in readings] for readings in result.to_doubt],
        "stories": [_story(story, unit) for story in result.stories],
        "distances_km": [_span(span) for span in result.distances],
        "turn_km": _km(result.turn_km),
        "assumption": FROM_NEW,
        "band": BAND,
        "published": SOURCE,
    }


def changes_words(story: Story) -> str:
    """What the story takes to have happened; that all is as written where it changes nothing."""
    if not story.changes:
        return "all readings as they are written"
    return "; ".join(change_words(change) for change in story.changes)


def change_words(change: Change) -> str:
    """One change in words, with the readings that it stands between."""
    reading, after = change.reading, change.after
    if change.kind == "reading wrong":
        return f"the reading “{reading.name}” is wrong"
    if change.kind == "other unit":
        return f"the figure of “{reading.name}” is in {reading.other_unit.unit}"
    assert after is not None, "a change between readings has one before it"
    between = f"between “{after.name}” and “{reading.name}”"
    if change.kind == "instrument changed":
        return f"the instrument was changed or set back {between}"
    often = "once" if change.turns == 1 else f"{change.turns} times"
    return f"the dial turned over {often} {between}"


def distance_words(span: Span, unit: Unit) -> str:
    """True distance in a unit: a figure, or from which figure upward."""
    least = grouped(span.from_km / KM_IN[unit])
    if span.to_km is None:
        return f"{least} {unit} or more"
    if span.to_km == span.from_km:
        return f"{least} {unit}"
    return f"{least} to {grouped(span.to_km / KM_IN[unit])} {unit}"


def story_span(story: Story) -> Span:
    """Distances that fit the story."""
    return Span(from_km=story.at_least_km, to_km=story.at_most_km)


def story_rates(story: Story) -> tuple[YearlyRate, ...]:
    """Rates of the story's stretches."""
    return tuple(rates_of(story.stretches))


def grouped(value: float) -> str:
    """Whole number with its thousands apart.

    Examples
    --------
    >>> grouped(161392.2).replace("\N{NARROW NO-BREAK SPACE}", " ")
    '161 392'
    """
    return f"{value:,.0f}".replace(",", "\N{NARROW NO-BREAK SPACE}")


def _story(story: Story, unit: Unit) -> dict[str, Any]:
    return {
        "changes": [
            {
                "kind": change.kind,
                "reading": change.reading.name,
                "after": None if change.after is None else change.after.name,
                "turns": change.turns,
            }
            for change in story.changes
        ],
        "words": changes_words(story),
        "true_distance": distance_words(story_span(story), unit),
        "at_least_km": _km(story.at_least_km),
        "at_most_km": _km(story.at_most_km),
        "rates": [_rate(rate) for rate in story_rates(story)],
    }


def _rate(rate: YearlyRate) -> dict[str, Any]:
    return {
        "from": rate.stretch.first.name,
        "to": rate.stretch.second.name,
        "km_a_year": _km(rate.km_a_year),
        "published_km_a_year": _km(rate.published_km),
        "words": rate.words,
    }


def _span(span: Span) -> dict[str, float | None]:
    return {"from": _km(span.from_km), "to": _km(span.to_km)}


def _km(value: float | None) -> float | None:
    return None if value is None else round(value, 3)
