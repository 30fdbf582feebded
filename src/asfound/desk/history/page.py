"""The history of a car: its timeline, its clashes, its order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.desk.history.lines import (
    StatementLine,
    asked_without,
    clash_lines,
    event_lines,
    links_of,
    statements,
)
from asfound.dossier.figures import strata, timeline_parts, timeline_svg
from asfound.dossier.figures.timeline import Shape
from asfound.record.convert.history import Statement
from asfound.record.convert.stored import folder_of
from asfound.record.derived import history_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.weigh.dates import HistoryReading


@login_required
@require_GET
def history(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the history, as it is or without some statements for a look."""
    car = open_car(request, slug)
    folder = folder_of(car)
    lines = statements(folder)
    without = asked_without(request.GET.getlist("without"), lines)
    context: dict[str, Any] = {
        "aside": [line for line in lines.values() if not line.counts],
        "links_n": len(folder.sheet("event_links")),
        "without": without,
    }
    try:
        reading = history_reading(folder, without=[(w.kind, w.name) for w in without])
    except AsfoundError as error:
        context["refusal"] = str(error)
    else:
        context |= _read(car, folder, reading, lines, request=request, without=without)
    return show(request, "history/page.html", car=car, room="history", **context)


def _read(
    car: Car,
    folder: CarFolder,
    reading: HistoryReading,
    lines: dict[Statement, StatementLine],
    *,
    request: HttpRequest,
    without: Sequence[StatementLine],
) -> dict[str, Any]:
    parts = [[dated.event for dated in part] for part in timeline_parts(reading)]
    of = request.GET.get("of", "")
    part = next((number for number, names in enumerate(parts) if of in names), None)
    if part is None:
        asked = request.GET.get("part", "")
        of, part = "", int(asked) if asked.isdecimal() and int(asked) < len(parts) else 0
    clashing = frozenset(dated.event for dated in reading.events if not dated.holds)
    drawn = [d.likely.u_days for d in reading.events if d.likely and d.likely.how == "drawn"]
    return {
        "events": event_lines(folder, reading, parts[part] if parts else ()),
        "events_n": len(reading.events),
        "part": part,
        "parts": [(number, names[0], names[-1]) for number, names in enumerate(parts)],
        "clashes": [clash_lines(clash, lines) for clash in reading.clashes],
        "may_be_more": not reading.all_clashes_found,
        "timelines": _timelines(car, folder, reading, of, part, without),
        "strata": strata(reading.order, clashing=clashing),
        "of": of,
        "links": links_of(of, lines.values(), folder) if of else [],
        "own_window": lines.get(("event", of)),
        "drawn_n": len(drawn),
        "u_days": max(drawn, default=0.0),
    }


def _timelines(
    car: Car,
    folder: CarFolder,
    reading: HistoryReading,
    of: str,
    part: int,
    without: Sequence[StatementLine],
) -> list[tuple[str, str]]:
    """Drawing for a wide and for a narrow screen, with the class that shows it there."""
    if not reading.events:
        return []

    def address(event: str) -> str:
        asked = [("of", event), *(("without", line.key) for line in without)]
        return f"{reverse('history', args=(car.slug,))}?{urlencode(asked)}#timeline"

    shapes: tuple[tuple[str, Shape], ...] = (("wide", "wide"), ("narrow-only", "narrow"))
    return [
        (
            shown_where,
            timeline_svg(folder, reading, shape=shape, links_of=of, part=part, address=address),
        )
        for shown_where, shape in shapes
    ]
