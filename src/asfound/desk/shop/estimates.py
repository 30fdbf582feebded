"""Estimate against actual over the workshop, by trade and kind of job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import person_of, refuse_readers, show
from asfound.desk.observed.files import XLSX, as_file
from asfound.dossier.figures.ratios import RatioRow, ratios_svg
from asfound.exchange import csv_bytes
from asfound.exchange.spreadsheet_out import workbook_bytes
from asfound.record.convert.past import shared_words
from asfound.record.reads.money import money_settings
from asfound.record.reads.past import finished_work
from asfound.record.results.estimates import (
    CarJob,
    EstimateLine,
    estimate_lines,
    jobs_sheet,
    lines_sheet,
)

JOBS_SHOWN = 12
"""Of a trade or kind, the latest; the files have them all."""
ROWS_DRAWN = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """A line with its latest jobs and what it cost beyond its estimate."""

    line: EstimateLine
    jobs: tuple[CarJob, ...]
    beyond: Decimal | None


@login_required
@require_GET
def estimates(request: HttpRequest) -> HttpResponse:
    """Page of what finished work says of estimates; what it cost is for the head alone."""
    refuse_readers(request)
    every, costs = _all_jobs(), _costs(request)
    jobs = [one for one in every if one.done.teaches]
    past, lines = estimate_lines(jobs)
    return show(
        request,
        "shop/estimates.html",
        lines=[_shown(line, costs) for line in lines],
        jobs_n=len(jobs),
        doubted=[one for one in every if not one.done.teaches],
        figure=ratios_svg([_row(line) for line in lines[:ROWS_DRAWN]]) if lines else "",
        drawn_n=min(len(lines), ROWS_DRAWN),
        pooled=len({line.trade for line in lines}) > 1 and not past.of_trades,
        shared=shared_words(past),
        shows_money=bool(costs),
        currency=money_settings().currency,
    )


@login_required
@require_GET
def table(request: HttpRequest) -> HttpResponse:
    """Lines by trade and kind, or with ``?jobs`` the jobs, as CSV."""
    refuse_readers(request)
    jobs = _jobs()
    if "jobs" in request.GET:
        return as_file(csv_bytes(jobs_sheet(jobs)), "text/csv; charset=utf-8", "jobs.csv")
    sheet = lines_sheet(estimate_lines(jobs)[1], _costs(request) or None)
    return as_file(csv_bytes(sheet), "text/csv; charset=utf-8", "estimates.csv")


@login_required
@require_GET
def workbook(request: HttpRequest) -> HttpResponse:
    """Both as a spreadsheet."""
    refuse_readers(request)
    jobs = _jobs()
    lines = lines_sheet(estimate_lines(jobs)[1], _costs(request) or None)
    data = workbook_bytes({"estimates": lines, "jobs": jobs_sheet(jobs)})
    return as_file(data, XLSX, "estimates.xlsx")


@login_required
@require_GET
def picture(request: HttpRequest) -> HttpResponse:
    """The drawing with its own colours."""
    refuse_readers(request)
    lines = estimate_lines(_jobs())[1][:ROWS_DRAWN]
    if not lines:
        raise Http404("No task is finished yet.")
    svg = ratios_svg([_row(line) for line in lines], theme="print")
    return as_file(svg.encode(), "image/svg+xml", "estimates.svg")


def _jobs() -> list[CarJob]:
    return [one for one in _all_jobs() if one.done.teaches]


def _all_jobs() -> list[CarJob]:
    return [CarJob(car=car.slug, title=str(car), done=done) for car, done in finished_work()]


def _costs(request: HttpRequest) -> Mapping[str, Decimal]:
    """What an hour costs, for the head alone."""
    person = person_of(request)
    return money_settings().costs if person is not None and person.is_head else {}


def _shown(line: EstimateLine, costs: Mapping[str, Decimal]) -> _Shown:
    return _Shown(line=line, jobs=line.jobs[:JOBS_SHOWN], beyond=line.beyond(costs))


def _row(line: EstimateLine) -> RatioRow:
    named = f"{line.trade}: {line.kind}" if line.kind else line.trade
    count = len(line.jobs)
    told: dict[str, Any] = {
        name: getattr(line.factor, name) for name in ("low", "high", "job_low", "job_high")
    }
    return RatioRow(
        title=f"{named}, {count} job{'' if count == 1 else 's'}",
        ratios=[one.ratio for one in line.jobs],
        factor=line.factor.median,
        **told,
    )
