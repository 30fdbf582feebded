"""What the choice was before the last lock or change of brief, for the person who made it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.cache import cache
from django.http import HttpRequest

from asfound.record.derived import ChoiceResult
from asfound.record.models import Car


def remember_choice(request: HttpRequest, car: Car, *, totals: Mapping[str, str], key: str) -> None:
    """Keep what the page shows now, and the name under which the choice is kept."""
    now = {"totals": dict(totals), "key": key}
    if request.session.get(_now(car)) != now:
        request.session[_now(car)] = now


def set_totals_aside(request: HttpRequest, car: Car) -> None:
    """A change follows: what was shown last is what the next choice is held against."""
    if shown := request.session.get(_now(car)):
        request.session[_before(car)] = shown


def last_totals(request: HttpRequest, car: Car) -> Mapping[str, str]:
    """Totals before the last change; empty if there was none in this session."""
    totals: Mapping[str, str] = _last(request, car).get("totals", {})
    return totals


def last_choice(request: HttpRequest, car: Car) -> ChoiceResult | None:
    """The choice before the last change, if there was one and it is still at hand."""
    key = _last(request, car).get("key", "")
    found: ChoiceResult | None = cache.get(key) if key else None
    return found


def _last(request: HttpRequest, car: Car) -> Mapping[str, Any]:
    before: Mapping[str, Any] = request.session.get(_before(car), {})
    return before


def _now(car: Car) -> str:
    return f"choice:{car.pk}"


def _before(car: Car) -> str:
    return f"choice-before:{car.pk}"
