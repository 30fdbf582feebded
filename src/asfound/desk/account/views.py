"""Signing in."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse
from django_htmx.http import HttpResponseClientRefresh


class SignIn(LoginView):
    """The sign-in page; a fragment that lands here has its whole page loaded again."""

    template_name = "account/sign_in.html"
    redirect_authenticated_user = True

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Form, or word to the fragment's page to load itself again."""
        if getattr(request, "htmx", False):
            return HttpResponseClientRefresh()
        return super().get(request, *args, **kwargs)
