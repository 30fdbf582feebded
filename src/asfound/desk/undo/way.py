"""How one kind of withdrawal is taken back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What is taken back, by which action, and what is said then; of some tables, other words."""

    model: Any
    restore: Callable[..., Any]
    field: str
    told: str
    told_of: Mapping[str, str] | None = None

    def take_back(self, request: HttpRequest, withdrawn: Any, *, else_to: str) -> HttpResponse:
        """Take the withdrawal back, say so, and return to the page that offered it."""
        self.restore(**{self.field: withdrawn, "by": request.user})
        told = (self.told_of or {}).get(getattr(withdrawn, "table", ""), self.told)
        messages.success(request, f"{told} The log keeps both lines.")
        asked = request.POST.get("next", "")
        safe = url_has_allowed_host_and_scheme(asked, {request.get_host()}, request.is_secure())
        return redirect(asked if safe else else_to)
