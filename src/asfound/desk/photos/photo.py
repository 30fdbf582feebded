"""A photograph's page: large, with its marks, its earlier twin, and what became of its rows."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.craft.photographs import names_of_views
from asfound.desk.access import may_write, open_car, show
from asfound.desk.findings.lines import layer_on, lines_on_photo
from asfound.desk.photos.forms import SortAgainForm, WithdrawForm
from asfound.desk.photos.lines import photo_line, photo_lines
from asfound.desk.photos.pictures import find_photo
from asfound.desk.photos.subjects import subjects_offered
from asfound.record.convert.photo_marks import MOST_WORDS, POINTS
from asfound.record.models import Car, Photo
from asfound.record.reads.findings import findings_on_photo

EARLIER_SHOWN = 24
ROWS_SHOWN = 30


@login_required
@require_GET
def photo(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """Page of a photograph; the workshop also sees what it was before, or why it is withdrawn."""
    car = open_car(request, slug)
    if may_write(request) and not car.photos.current().filter(sha256=sha256).exists():
        return _withdrawn(request, car, sha256)
    return photo_page(request, car, find_photo(car, sha256))


def photo_page(
    request: HttpRequest,
    car: Car,
    photo: Photo,
    *,
    sort: SortAgainForm | None = None,
    withdraw: WithdrawForm | None = None,
    refusal: str = "",
) -> HttpResponse:
    """Page of a photograph, with the form that was asked back if there is one."""
    bad = bool(refusal or sort or withdraw)
    found = lines_on_photo(car, findings_on_photo(car, photo.file))
    return show(
        request,
        "photos/photo.html",
        status=422 if bad else 200,
        car=car,
        room="photos",
        line=photo_line(car, photo),
        twin=_twin(car, photo),
        found=found,
        found_layer=layer_on(photo.sha256, found, file=photo.file),
        **_neighbours(car, photo),
        refusal=refusal,
        **(_for_the_workshop(car, photo, sort, withdraw) if may_write(request) else {}),
    )


def _for_the_workshop(
    car: Car, photo: Photo, sort: SortAgainForm | None, withdraw: WithdrawForm | None
) -> dict[str, Any]:
    now = {"subject": photo.subject, "view": photo.view, "stage": photo.stage}
    return {
        "sort": sort or SortAgainForm(car=car, initial=now),
        "withdraw": withdraw or WithdrawForm(),
        "offered": subjects_offered(car),
        "views": names_of_views(),
        "kinds": list(POINTS),
        "most_words": MOST_WORDS,
        "earlier": photo_lines(car, earlier_than(car, photo)[:EARLIER_SHOWN]),
        "rows": rows_of(car, photo.sha256).exclude(pk=photo.pk)[:ROWS_SHOWN],
    }


def earlier_than(car: Car, photo: Photo) -> QuerySet[Photo]:
    """Photographs of the same thing that one may be laid over, those of the same view first."""
    others: QuerySet[Photo] = car.photos.current().filter(subject=photo.subject)
    before = others.exclude(sha256__in=("", photo.sha256)).exclude(stage="after")
    same = before.filter(view=photo.view)
    return (same if same.exists() else before).order_by("position", "pk")


def rows_of(car: Car, sha256: str) -> QuerySet[Photo]:
    """Every row that the record has of these bytes, the latest first."""
    found: QuerySet[Photo] = car.photos.filter(sha256=sha256).select_related("entered_by")
    return found.order_by("-pk")


def _neighbours(car: Car, photo: Photo) -> dict[str, str]:
    """Hashes of the photographs of the same thing that came before and after this one."""
    others = car.photos.current().filter(subject=photo.subject).exclude(sha256="")
    before = others.filter(position__lt=photo.position).order_by("-position").first()
    after = others.filter(position__gt=photo.position).order_by("position").first()
    return {
        "one_before": before.sha256 if before else "",
        "one_after": after.sha256 if after else "",
    }


def _twin(car: Car, photo: Photo) -> Any:
    found = car.photos.current().filter(file=photo.pair).first() if photo.pair else None
    return photo_line(car, found) if found else None


def _withdrawn(request: HttpRequest, car: Car, sha256: str) -> HttpResponse:
    rows = rows_of(car, sha256) if sha256 else Photo.objects.none()
    last = rows.exclude(withdrawn_at=None).first()
    if last is None:
        raise Http404(sha256)
    return show(
        request, "photos/withdrawn.html", car=car, room="photos", last=last, rows=rows[:ROWS_SHOWN]
    )
