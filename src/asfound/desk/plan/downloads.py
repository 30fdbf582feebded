"""The plan to keep: the bars, what is computed, the order of stripping and of the rebuild."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car_to_write
from asfound.desk.observed.files import PICTURES, XLSX, as_file
from asfound.desk.plan.asked import asked_of, past_asked
from asfound.desk.plan.curve_files import curve_file
from asfound.desk.plan.lines import finishes_of, task_names
from asfound.dossier.figures.plan_bars import plan_span, plan_svg
from asfound.dossier.pictures import svg_as
from asfound.exchange import csv_bytes, json_bytes
from asfound.exchange.spreadsheet_out import workbook_bytes
from asfound.record.convert.past import past_json
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import StripQuestion, strip_read
from asfound.record.derived import PlanResult, plan_result
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.reads.workshop import planning_folder
from asfound.record.results.plan import no_plan_json, plan_json
from asfound.record.results.strip_sheets import rebuild_sheet, strip_sheet


def _result(request: HttpRequest, slug: str) -> tuple[CarFolder, PlanResult]:
    folder, asked = planning_folder(open_car_to_write(request, slug)), asked_of(request.GET)
    try:
        return folder, plan_result(folder, start=asked.start, past=past_asked(asked))
    except InputFaultsError as error:
        raise Http404(str(error)) from error


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound plan --json`` prints."""
    _, result = _result(request, slug)
    if result.plan is None or result.promise is None:
        told = no_plan_json(result.question, result.clash)
    else:
        told = plan_json(result.question, result.plan, result.promise, result.critical)
        told |= past_json(past_asked(asked_of(request.GET)))
        told |= {"stopped": True} if result.is_stopped else {}
    return as_file(json_bytes(told), "application/json", f"{slug}-plan.json")


@login_required
@require_GET
def bars(request: HttpRequest, slug: str, form: str) -> HttpResponse:
    """Bars of the days shown as a picture with its own colours."""
    (folder, result), asked = _result(request, slug), asked_of(request.GET)
    if result.plan is None:
        raise Http404("; ".join(result.clash))
    begins, ends = plan_span(result.question, result.plan)
    tasks_n = len(result.plan.placed)
    picture = plan_svg(
        result.question,
        result.plan,
        by=asked.by,
        critical=result.critical,
        names=task_names(folder),
        of=asked.of if asked.of in result.question.problem.named else "",
        window=asked.days.window(begins=begins, ends=ends, tasks_n=tasks_n),
        theme="print",
    )
    data = picture.encode() if form == "svg" else svg_as(picture, form)  # type: ignore[arg-type]  # by URL
    return as_file(data, PICTURES[form], f"{slug}-plan.{form}")


def _asked_strip(request: HttpRequest, slug: str) -> StripQuestion:
    try:
        return strip_read(folder_of(open_car_to_write(request, slug)))[0]
    except InputFaultsError as error:
        raise Http404(str(error)) from error


@login_required
@require_GET
def strip_table(request: HttpRequest, slug: str) -> HttpResponse:
    """The order of stripping as CSV."""
    data = csv_bytes(strip_sheet(_asked_strip(request, slug)))
    return as_file(data, "text/csv; charset=utf-8", f"{slug}-strip.csv")


@login_required
@require_GET
def rebuild_table(request: HttpRequest, slug: str) -> HttpResponse:
    """The order of the rebuild as CSV."""
    data = csv_bytes(rebuild_sheet(_asked_strip(request, slug)))
    return as_file(data, "text/csv; charset=utf-8", f"{slug}-rebuild.csv")


@login_required
@require_GET
def strip_workbook(request: HttpRequest, slug: str) -> HttpResponse:
    """Both as a spreadsheet."""
    question = _asked_strip(request, slug)
    sheets = {"strip": strip_sheet(question), "rebuild": rebuild_sheet(question)}
    return as_file(workbook_bytes(sheets), XLSX, f"{slug}-strip.xlsx")


@login_required
@require_GET
def curve(request: HttpRequest, slug: str, form: str) -> HttpResponse:
    """Curve of the promise as a picture, or its numbers."""
    _, result = _result(request, slug)
    finishes = finishes_of(result)
    if finishes is None:
        raise Http404("; ".join(result.clash))
    return curve_file(finishes, form, f"{slug}-promise")
