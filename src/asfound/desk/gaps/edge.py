"""One edge: its picture, its readings, and entering gap and flush along it."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.gaps.forms import GapForm
from asfound.desk.gaps.lines import edge_line, told, twin_line
from asfound.desk.gaps.page import picture
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.observed.keeping import keep_row
from asfound.desk.observed.lines import observed_lists
from asfound.measure.gaps import EdgeGround, GapResult
from asfound.record.convert.stored import folder_of
from asfound.record.derived import gaps_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def edge(request: HttpRequest, slug: str, edge: str) -> HttpResponse:
    """Page of an edge, or a reading that was entered on it."""
    car = open_car(request, slug)
    folder = folder_of(car)
    if edge not in edge_names(folder):
        raise Http404(edge)
    if request.method != "POST":
        form = GapForm(folder=folder, fixed={"edge": edge}, initial=_next(folder, edge))
        return _page(request, car, folder, edge, form)
    refuse_readers(request)
    form = GapForm(request.POST, folder=folder, fixed={"edge": edge})
    if not form.is_valid():
        if is_for_script(request):
            return refused_answer(form)
        return _page(request, car, folder, edge, form, status=422)
    keep_row(request, car, form, told=told)
    return kept_answer(request, f"{reverse('edge', args=(car.slug, edge))}#entry")


def edge_names(folder: CarFolder) -> list[str]:
    """Edges of the table, then those that readings name."""
    return list(
        dict.fromkeys(
            row.text("edge") for table in ("edges", "gaps") for row in folder.sheet(table)
        )
    )


def _next(folder: CarFolder, edge: str) -> dict[str, str]:
    """Instrument used last, and the next place along: one step as the last one was."""
    rows = list(folder.sheet("gaps"))
    initial = {"instrument": rows[-1].text("instrument") if rows else ""}
    along = [row.number("along_mm") for row in rows if row.text("edge") == edge][-2:]
    if not along:
        return {**initial, "along_mm": "0"}
    step = along[-1] - along[0]
    return {**initial, "along_mm": f"{along[-1] + step:g}"} if step else initial


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    edge: str,
    form: GapForm,
    *,
    status: int = 200,
) -> HttpResponse:
    names = edge_names(folder)
    i = names.index(edge)
    return show(
        request,
        "gaps/edge.html",
        status=status,
        car=car,
        room="survey",
        edge=edge,
        before=names[i - 1] if i else "",
        after=names[i + 1] if i + 1 < len(names) else "",
        entry=form,
        instruments=_instruments(folder),
        **_told(gaps_reading(folder), edge),
        **observed_lists(car, "gaps", told=told, subject=edge),
    )


def _told(result: GapResult, edge: str) -> dict[str, Any]:
    found = next(e for e in result.edges if e.ground.edge == edge)
    twins = next((t for t in result.twins if edge in (t.left, t.right)), None)
    ground: EdgeGround = found.ground
    return {
        "line": edge_line(found),
        "ground": ground,
        "twins": twin_line(twins) if twins else None,
        "figure": picture(result, edge),
    }


def _instruments(folder: CarFolder) -> list[str]:
    known = [r.text("instrument") for r in folder.sheet("instruments") if r.text("kind") == "gap"]
    used = [row.text("instrument") for row in folder.sheet("gaps")]
    return [name for name in dict.fromkeys([*known, *used]) if name]
