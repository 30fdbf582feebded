"""Signing in."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django_htmx.http import HttpResponseClientRefresh

from asfound.desk.account.tries import (
    TooManyTriesError,
    address_of,
    begin_try,
    was_right,
)
from asfound.desk.people.door import tablet_here


class SignIn(LoginView):
    """The sign-in page; a fragment that lands here has its whole page loaded again.

    At a shared tablet the names of the people come first.
    """

    template_name = "account/sign_in.html"
    redirect_authenticated_user = True

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Form, or word to the fragment's page to load itself again."""
        if getattr(request, "htmx", False):
            return HttpResponseClientRefresh()
        by_name = "password" not in request.GET and not request.user.is_authenticated
        if by_name and tablet_here(request) is not None:
            return redirect(f"{reverse('tablet-names')}?{request.GET.urlencode()}")
        return super().get(request, *args, **kwargs)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """The password is looked at only while there are tries left."""
        try:
            begin_try(account=self._account(), address=address_of(request))
        except TooManyTriesError as error:
            return self._locked(error)
        return super().post(request, *args, **kwargs)

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        """Signed in; the wrong tries before this are forgotten."""
        was_right(account=self._account(), address=address_of(self.request))
        return super().form_valid(form)

    def _account(self) -> str:
        return self.request.POST.get("username", "")[:150]

    def _locked(self, error: TooManyTriesError) -> HttpResponse:
        form = AuthenticationForm(self.request, initial={"username": self._account()})
        wait_s = max(1, round((error.until - timezone.now()).total_seconds()))
        context = self.get_context_data(form=form, locked_until=error.until)
        answer = self.render_to_response(context, status=429)
        answer["Retry-After"] = str(wait_s)
        return answer
