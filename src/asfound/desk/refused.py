"""What is refused is told to the person who asked, on a page of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.core.exceptions import BadRequest
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from asfound.base import InputError
from asfound.desk.access import NotReleasedError
from asfound.desk.observed.answering import entered_by_another, is_for_script, refusal
from asfound.record.full_disk import is_full

CONFLICT, FORBIDDEN, NO_ROOM_LEFT = 409, 403, 507
NO_ROOM = (
    "The disk of the workshop's computer is full: this was not kept. What was kept before is "
    "there. Tell the head of the workshop; when there is room again, send it once more."
)


class RefusalMiddleware:
    """Answer an action's refusal in words, such as that somebody else was first."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: Any
    ) -> HttpResponse | None:
        """Refuse what another person entered, and a NUL sign, which PostgreSQL keeps in no text."""
        if "\0" in request.path_info:
            raise Http404(request.path_info)
        if _has_nul(request.GET) or (request.method == "POST" and _has_nul(request.POST)):
            raise BadRequest("a NUL sign in what was sent")
        return entered_by_another(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Page for a refused change, a closed room or a full disk; other errors go their way."""
        if isinstance(error, NotReleasedError):
            told = {"room": error.room}
            return render(request, "not_released.html", told, status=FORBIDDEN)
        if is_full(error):
            return render(request, "no_room.html", {"told": NO_ROOM}, status=NO_ROOM_LEFT)
        if request.method != "POST" or not isinstance(error, InputError):
            return None
        if is_for_script(request):
            return refusal([str(error)])
        return render(request, "refused.html", {"refusal": error}, status=CONFLICT)


def _has_nul(sent: QueryDict) -> bool:
    return any("\0" in name or "\0" in "".join(values) for name, values in sent.lists())
