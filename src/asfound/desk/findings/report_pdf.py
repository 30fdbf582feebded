"""The condition report as a PDF: of one subject at once, of the whole car beside the page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from datetime import date

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_http_methods
from django_tasks import task

from asfound import __version__
from asfound.desk.access import may_write, open_car, open_rooms, show
from asfound.desk.beside import waiting_for
from asfound.desk.findings.subjects import about_or_404
from asfound.desk.observed.files import as_file
from asfound.dossier import Shown, make_condition_report
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.background.telling import tell, told
from asfound.record.convert.stored import folder_of, whole
from asfound.record.convert.stored_near import folder_near
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.models.release import OwnersRoom

_KEPT_S = 3600.0
_KIND = "application/pdf"


@task()
def set_condition(*, key: str, car: str, on: str, shown: dict[str, bool]) -> None:
    """The condition report of the whole car, left for an hour where its page looks for it."""

    def work() -> None:
        folder = whole(folder_of(Car.objects.get(slug=car)))
        day, told_of = date.fromisoformat(on), Shown(**shown)
        cache.set(key, _set(folder, day, told_of, progress=lambda d: tell(key, d)), _KEPT_S)

    told(key, work)


@login_required
@require_GET
def of_subject(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """The report on one part or panel as a file."""
    car = open_car(request, slug)
    about_or_404(car, subject)
    data = make_condition_report(
        folder_near(car, subject),
        made_on=timezone.localdate(),
        subject=subject,
        picture=picture_on_shelf,
        shown=shown_to(request, car),
    )
    return as_file(data, _KIND, f"{slug}-{slugify(subject)}-condition.pdf")


@login_required
@require_http_methods(["GET", "POST"])
def of_car_made(request: HttpRequest, slug: str) -> HttpResponse:
    """Page on which the report of the whole car is set, and where it is fetched then."""
    car = open_car(request, slug)
    key, on, shown = _asked(request, car)
    waiting = waiting_for(
        request,
        set_condition,
        car,
        key=key,
        what="Setting the pages",
        car=slug,
        on=on.isoformat(),
        shown=asdict(shown),
    )
    if waiting is not None:
        return waiting
    is_part = getattr(request, "htmx", False)
    name = "findings/_pdf.html" if is_part else "findings/pdf.html"
    return show(request, name, car=car, room="findings", pdf=cache.get(key))


@login_required
@require_GET
def of_car(request: HttpRequest, slug: str) -> HttpResponse:
    """The report of the whole car as a file, made in the answer where it does not lie there."""
    car = open_car(request, slug)
    key, on, shown = _asked(request, car)
    data = cache.get(key)
    if data is None:
        data = _set(folder_of(car), on, shown)
        cache.set(key, data, _KEPT_S)
    return as_file(data, _KIND, f"{slug}-condition.pdf")


def shown_to(request: HttpRequest, car: Car) -> Shown:
    """History is the workshop's; decisions are for whom that room is open."""
    decisions = OwnersRoom.DECISIONS in open_rooms(request, car)
    return Shown(history=may_write(request), decisions=decisions)


def _asked(request: HttpRequest, car: Car) -> tuple[str, date, Shown]:
    """Where the report lies as long as nothing was written about the car, its day, and for whom."""
    on, shown = timezone.localdate(), shown_to(request, car)
    last = car.entries.order_by("-pk").values_list("hash", flat=True).first()
    return f"condition:{__version__}:{car.pk}:{last}:{on}:{shown}".replace(" ", ""), on, shown


def _set(
    folder: CarFolder, on: date, shown: Shown, progress: Callable[[float], None] | None = None
) -> bytes:
    return make_condition_report(
        folder, made_on=on, picture=picture_on_shelf, shown=shown, progress=progress
    )
