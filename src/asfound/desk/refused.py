"""What an action refuses is told to the person who asked, on a page of its own."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from asfound.base import InputError

CONFLICT = 409


class RefusalMiddleware:
    """Answer an action's refusal in words, such as that somebody else was first."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Page for a refused change; any other error goes its way."""
        if request.method != "POST" or not isinstance(error, InputError):
            return None
        return render(request, "refused.html", {"refusal": error}, status=CONFLICT)
