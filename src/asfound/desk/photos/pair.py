"""A later photograph laid over an earlier one, wiped between by hand."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, show
from asfound.desk.photos.lines import photo_line
from asfound.desk.photos.pictures import find_photo, unchanging
from asfound.exchange.photographs import Laid, laid_pair


@login_required
@require_GET
def fragment(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """The pair, once it is computed; side by side where it cannot be."""
    car = open_car(request, slug)
    after = find_photo(car, sha256)
    before = car.photos.current().filter(file=after.pair).first() if after.pair else None
    if before is None:
        raise Http404(sha256)
    whole = not getattr(request, "htmx", False)
    return show(
        request,
        "photos/laid.html" if whole else "photos/_laid.html",
        car=car,
        room="photos",
        before=photo_line(car, before),
        after=photo_line(car, after),
        laid=_laid(before.sha256, after.sha256),
    )


@login_required
@require_GET
def picture(
    request: HttpRequest, slug: str, after: str, before: str, which: str
) -> HttpResponse | FileResponse:
    """One of the two pictures in their common frame."""
    car = open_car(request, slug)
    later, earlier = find_photo(car, after), find_photo(car, before)
    if later.pair != earlier.file:
        raise Http404(after)
    laid = _laid(earlier.sha256, later.sha256)
    place = {"before": laid.before, "after": laid.after}.get(which)
    if place is None:
        raise Http404(which)
    return unchanging(request, place)


def _laid(before: str, after: str) -> Laid:
    try:
        return laid_pair(before=before, after=after)
    except (OSError, ValueError):
        return Laid(
            before=None,
            after=None,
            refusal="The bytes of one of the two photographs are not on this machine.",
        )
