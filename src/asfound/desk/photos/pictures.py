"""Pictures of photographs: small and large for who may see the car, originals for the workshop."""

from __future__ import annotations

from pathlib import Path

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseNotModified
from django.utils.http import quote_etag
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, open_car_to_write
from asfound.desk.photos.lines import SIZES
from asfound.exchange.photographs import kept_picture
from asfound.record.actions import open_kept_file
from asfound.record.models import Car, Photo

_A_YEAR_S = 365 * 24 * 3600
_TYPES = {".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".heic": "image/heic"}


def find_photo(car: Car, sha256: str) -> Photo:
    """Photograph of the car that counts, by the hash of its bytes."""
    found: Photo | None = car.photos.current().filter(sha256=sha256).first() if sha256 else None
    if found is None:
        raise Http404(sha256)
    return found


@login_required
@require_GET
def picture(request: HttpRequest, slug: str, sha256: str, size: str) -> HttpResponse | FileResponse:
    """Picture without where and with what it was taken."""
    car = open_car(request, slug)
    photo = find_photo(car, sha256)
    if size not in SIZES:
        raise Http404(size)
    try:
        place = kept_picture(photo.sha256, longest_px=SIZES[size])
    except (OSError, ValueError):
        raise Http404(sha256) from None
    return unchanging(request, place)


@login_required
@require_GET
def original(request: HttpRequest, slug: str, sha256: str) -> FileResponse:
    """Bytes as the camera wrote them, with all they say; for the workshop alone."""
    car = open_car_to_write(request, slug)
    photo = find_photo(car, sha256)
    suffix = Path(photo.file).suffix.lower()
    try:
        stream = open_kept_file(photo)
    except (OSError, ValueError):
        raise Http404(sha256) from None
    answer = FileResponse(
        stream,
        as_attachment=True,
        filename=f"{sha256}{suffix}",
        content_type=_TYPES.get(suffix, "application/octet-stream"),
    )
    answer["Cache-Control"] = "private, no-store"
    return answer


def unchanging(request: HttpRequest, place: Path) -> HttpResponse | FileResponse:
    """File that never changes under its address: the person's own browser may keep it."""
    etag = quote_etag(place.name)
    answer: HttpResponse | FileResponse
    if request.headers.get("If-None-Match") == etag:
        answer = HttpResponseNotModified()
    else:
        answer = FileResponse(place.open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = f"private, max-age={_A_YEAR_S}, immutable"
    answer["ETag"] = etag
    return answer
