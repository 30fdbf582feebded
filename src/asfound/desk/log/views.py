"""The log of a car, filtered by person and action, and one line of it whole."""

from __future__ import annotations

import json
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.log.told import log_line as told_line
from asfound.desk.log.told import whole_line
from asfound.record.actions.words import in_words
from asfound.record.models import Entry
from asfound.record.reads.money import lines_for

LINES_A_PAGE = 40
_CONTENT_SHOWN = 60_000
_NOBODY = "-"
"""Stands in the address for what the command line did."""


@login_required
@require_GET
def log(request: HttpRequest, slug: str) -> HttpResponse:
    """Who wrote what to the car and when, the last first."""
    car = open_car(request, slug)
    refuse_readers(request)
    who, action = request.GET.get("who", ""), request.GET.get("action", "")
    told = lines_for(request.user, car)
    page = Paginator(_lines(told, who, action), LINES_A_PAGE).get_page(request.GET.get("page"))
    asked = {name: value for name, value in (("who", who), ("action", action)) if value}
    return show(
        request,
        "log/page.html",
        car=car,
        room="log",
        page=page,
        query=urlencode(asked),
        lines=[told_line(entry) for entry in page],
        people=_met(told, "who"),
        actions=sorted((in_words(name), name) for name in _met(told, "action")),
        who=who,
        action=action,
    )


@login_required
@require_GET
def log_line(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """One line: what it changed, field by field, and all that it holds for the auditor."""
    car = open_car(request, slug)
    refuse_readers(request)
    entry = get_object_or_404(lines_for(request.user, car), pk=pk)
    return show(
        request,
        "log/line.html",
        car=car,
        room="log",
        entry=entry,
        told=whole_line(entry),
        before=_json(entry.before),
        after=_json(entry.after),
    )


def _lines(told: QuerySet[Entry], who: str, action: str) -> QuerySet[Entry]:
    lines = told.order_by("-pk")
    if who:
        lines = lines.filter(who="" if who == _NOBODY else who)
    return lines.filter(action=action) if action else lines


def _met(told: QuerySet[Entry], field: str) -> list[str]:
    """Values of that field on the lines, each once."""
    return list(told.order_by(field).values_list(field, flat=True).distinct())


def _json(content: object) -> str:
    if content is None:
        return ""
    text = json.dumps(content, indent=2, ensure_ascii=False)
    if len(text) <= _CONTENT_SHOWN:
        return text
    return f"{text[:_CONTENT_SHOWN]}\n… {len(text):,} signs in all"
