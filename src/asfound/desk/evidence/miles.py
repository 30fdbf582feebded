"""The odometer: which readings contradict, and which distances fit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.desk.evidence.rows import row_lines, set_aside
from asfound.record.convert.odometer import odometer_readings
from asfound.record.convert.stored import folder_of
from asfound.record.results.odometer import (
    BAND,
    FROM_NEW,
    changes_words,
    distance_words,
    grouped,
    story_rates,
    story_span,
)
from asfound.weigh.odometer import (
    KM_IN,
    MOST_CHANGES,
    SOURCE,
    OdometerResult,
    Story,
    Unit,
    read_odometer,
)


@login_required
@require_GET
def odometer(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the odometer."""
    car = open_car(request, slug)
    folder = folder_of(car)
    readings = odometer_readings(folder)
    lines = row_lines(folder, "odometer", car.slug)
    context: dict[str, Any] = {"from_new": FROM_NEW, "band": BAND, "source": SOURCE}
    context["aside"] = list(set_aside(lines))
    if readings:
        try:
            result = read_odometer(readings)
            standing = [line.address for line in lines if line.counts]
            named = [reading.name for reading in readings]
            context |= _told(result, dict(zip(named, standing, strict=True)))
        except AsfoundError as error:
            context["refusal"] = str(error)
    return show(request, "evidence/odometer.html", car=car, room="evidence", **context)


def _told(result: OdometerResult, addresses: Mapping[str, str]) -> dict[str, Any]:
    unit = result.readings[-1].unit
    clashing = {r.name for clash in result.clashes for r in clash.readings}
    turn = result.turn_km
    return {
        "result": result,
        "clashes": [
            (clash.why, [(r.name, addresses[r.name]) for r in clash.readings])
            for clash in result.clashes
        ],
        "unit": unit,
        "most_changes": MOST_CHANGES,
        "readings": [
            (r.name, r.instrument, r.name in clashing, addresses[r.name]) for r in result.readings
        ],
        "stories": [_story(story, unit) for story in result.stories],
        "changes_n": max((len(story.changes) for story in result.stories), default=0),
        "turn": "" if turn is None else f"{grouped(turn / KM_IN[unit])} {unit}",
    }


def _story(story: Story, unit: Unit) -> dict[str, Any]:
    return {
        "words": changes_words(story),
        "distance": distance_words(story_span(story), unit),
        "rates": [
            (
                rate.stretch.first.name,
                rate.stretch.second.name,
                grouped(rate.km_a_year / KM_IN[unit]),
                rate.words,
            )
            for rate in story_rates(story)
        ],
    }
