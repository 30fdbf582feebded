"""What the totals were before the last lock or change of brief, for the person who made it."""

from __future__ import annotations

from collections.abc import Mapping

from django.http import HttpRequest

from asfound.record.models import Car


def remember_totals(request: HttpRequest, car: Car, shown: Mapping[str, str]) -> None:
    """Keep what the page shows now."""
    if request.session.get(_now(car)) != shown:
        request.session[_now(car)] = dict(shown)


def set_totals_aside(request: HttpRequest, car: Car) -> None:
    """A change follows: what was shown last is what the next choice is held against."""
    if shown := request.session.get(_now(car)):
        request.session[_before(car)] = shown


def last_totals(request: HttpRequest, car: Car) -> Mapping[str, str]:
    """Totals before the last change; empty if there was none in this session."""
    before: Mapping[str, str] = request.session.get(_before(car), {})
    return before


def _now(car: Car) -> str:
    return f"totals:{car.pk}"


def _before(car: Car) -> str:
    return f"totals-before:{car.pk}"
