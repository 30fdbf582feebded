"""Tasks made from the signed decisions, kept as rows that people then edit."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from asfound.desk.access import open_car_to_write
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.made_tasks import made_tasks
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip_faults import ON_PAGES
from asfound.record.faults import InputFaultsError
from asfound.record.results.made_tasks import beside_tasks, counted


@login_required
@require_POST
def make(request: HttpRequest, slug: str) -> HttpResponse:
    """Add the tasks that the signed decisions ask for; none that is there is changed."""
    car = open_car_to_write(request, slug)
    seen = {table: sheet_rows(car, table) for table in ("tasks", "task_links")}
    try:
        made = made_tasks(folder_of(car), rows=ON_PAGES)
    except InputFaultsError as error:
        fault = error.faults[0]
        messages.error(request, f"{fault.rule.capitalize()}. {fault.remedy}")
        return redirect("plan", slug=slug)
    with transaction.atomic():
        for table, rows in (("tasks", made.tasks), ("task_links", made.links)):
            car.refresh_from_db()
            set_sheet(car=car, table=table, rows=rows, by=request.user, seen=seen[table])
    messages.success(request, f"{counted(made.added, 'task')} added.")
    for fault in made.faults:
        messages.warning(request, f"{fault.rule.capitalize()}. {fault.remedy}")
    for words in beside_tasks(made):
        messages.info(request, words)
    return redirect("plan", slug=slug)
