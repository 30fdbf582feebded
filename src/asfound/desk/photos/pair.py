"""A later photograph laid over an earlier one, wiped between by hand."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_http_methods
from django_tasks import task

from asfound.desk.access import open_car, show
from asfound.desk.beside import waiting_for
from asfound.desk.photos.lines import photo_line
from asfound.desk.photos.pictures import find_photo, unchanging
from asfound.exchange.photographs import Laid, is_laid, laid_pair
from asfound.record.background.telling import tell, told

_WHAT = "Laying one over the other"
_KNOWN_S = 60.0
"""How long the page need not look at the pictures to know that they are there."""


@task()
def lay(*, key: str, before: str, after: str) -> None:
    """One photograph laid over the other, left where the pictures are."""

    def work() -> None:
        found = _laid(before, after, progress=lambda done: tell(key, done))
        cache.set(key, found, _KNOWN_S)

    told(key, work)


@login_required
@require_http_methods(["GET", "POST"])
def fragment(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """The pair, once it is computed; side by side where it cannot be."""
    car = open_car(request, slug)
    after = find_photo(car, sha256)
    before = car.photos.current().filter(file=after.pair).first() if after.pair else None
    if before is None:
        raise Http404(sha256)
    pair = {"before": before.sha256, "after": after.sha256}
    waiting = (
        None
        if is_laid(**pair)
        else waiting_for(
            request, lay, car, key="laid:{before}:{after}".format(**pair), what=_WHAT, **pair
        )
    )
    if waiting is not None:
        return waiting
    whole = not getattr(request, "htmx", False)
    return show(
        request,
        "photos/laid.html" if whole else "photos/_laid.html",
        car=car,
        room="photos",
        before=photo_line(car, before),
        after=photo_line(car, after),
        laid=_laid(**pair),
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


def _laid(before: str, after: str, progress: Callable[[float], None] | None = None) -> Laid:
    try:
        return laid_pair(before=before, after=after, progress=progress)
    except (OSError, ValueError):
        return Laid(
            before=None,
            after=None,
            refusal="The bytes of one of the two photographs are not on this machine.",
        )
