"""The list of people, and one person: role, password, access."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.people.door import refuse_all_but_head
from asfound.desk.people.forms import NewPasswordForm, ReasonForm, RoleForm
from asfound.record.actions import (
    change_role,
    clear_pin,
    restore_access,
    set_password,
    withdraw_access,
)
from asfound.record.models import Person, Tablet
from asfound.record.reads.people import open_invitations
from asfound.record.reads.people import people as everybody

PEOPLE_A_PAGE = 50


@login_required
@require_GET
def people(request: HttpRequest) -> HttpResponse:
    """Everybody with an account, how many links are open, which tablets there are."""
    refuse_all_but_head(request)
    page = Paginator(everybody(), PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "people/list.html",
        page=page,
        invitations_n=open_invitations().count(),
        tablets_n=Tablet.objects.current().count(),
    )


@login_required
@require_http_methods(["GET", "POST"])
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """One person, with what the head can do."""
    refuse_all_but_head(request)
    found = get_object_or_404(everybody(), pk=pk)
    step = request.POST.get("step", "")
    given = {name: form(request.POST if step == name else None) for name, form in _FORMS.items()}
    if step in _STEPS and (step not in given or given[step].is_valid()):
        try:
            told = _STEPS[step](request, found, given.get(step))
        except InputError as error:
            _add(given, step, error)
        else:
            messages.success(request, told)
            return redirect("person", pk)
    return show(
        request,
        "people/person.html",
        status=422 if step else 200,
        whose=found,
        cars=found.cars.all()[:PEOPLE_A_PAGE],
        role=given["role"],
        password=given["password"],
        withdrawal=given["withdraw"],
        fault=given.get("fault", ""),
    )


def _add(given: dict[str, Any], step: str, error: InputError) -> None:
    if step in _FORMS:
        given[step].add_error(None, str(error))
    else:
        given["fault"] = str(error)


def _change_role(request: HttpRequest, who: Person, form: Any) -> str:
    change_role(person=who, by=request.user, **form.cleaned_data)
    return f"{who} is now {who.get_role_display().lower()}."


def _set_password(request: HttpRequest, who: Person, form: Any) -> str:
    set_password(person=who, by=request.user, **form.cleaned_data)
    return f"{who} has a new password and is signed out everywhere."


def _withdraw(request: HttpRequest, who: Person, form: Any) -> str:
    withdraw_access(person=who, by=request.user, **form.cleaned_data)
    return f"{who} can sign in no longer; what {who} wrote stays."


def _restore(request: HttpRequest, who: Person, form: Any) -> str:
    restore_access(person=who, by=request.user)
    return f"{who} can sign in again."


def _clear_pin(request: HttpRequest, who: Person, form: Any) -> str:
    clear_pin(person=who, by=request.user)
    return f"The PIN of {who} is no longer good."


_FORMS: dict[str, type[forms.Form]] = {
    "role": RoleForm,
    "password": NewPasswordForm,
    "withdraw": ReasonForm,
}
_STEPS: dict[str, Callable[[HttpRequest, Person, Any], str]] = {
    "role": _change_role,
    "password": _set_password,
    "withdraw": _withdraw,
    "restore": _restore,
    "clear-pin": _clear_pin,
}
