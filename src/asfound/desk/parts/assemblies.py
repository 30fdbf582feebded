"""Assemblies met before: kept as a template, entered for another car at once."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from asfound.desk.access import open_car_to_write, show
from asfound.desk.parts.adding import assemblies as assemblies_of
from asfound.desk.parts.part import find_part
from asfound.desk.undo import offer_workshop_undo
from asfound.record.actions import (
    make_template,
    make_template_of,
    use_template,
    withdraw_template,
)
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import strip_question
from asfound.record.models import AssemblyTemplate
from asfound.record.reads.register import names_of_places


class UseForm(forms.Form):
    """Which template, under what, and where its parts lie."""

    template = forms.ModelChoiceField(
        label="assembly",
        queryset=AssemblyTemplate.objects.filter(withdrawn_at=None),
        empty_label="choose",
    )
    parent = forms.CharField(
        label="belongs to",
        required=False,
        widget=forms.TextInput(attrs={"list": "assemblies", "autocomplete": "off"}),
        help_text="number of the assembly, or none",
    )
    place = forms.CharField(
        label="where its parts lie",
        required=False,
        widget=forms.TextInput(attrs={"list": "places", "autocomplete": "off"}),
    )


@login_required
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest, slug: str) -> HttpResponse:
    """Form that enters a template's parts for this car."""
    car = open_car_to_write(request, slug)
    form = UseForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        made = use_template(car=car, by=request.user, **form.cleaned_data)
        joints_n = form.cleaned_data["template"].joints_n
        joints = f", with {joints_n} joints between them" if joints_n else ""
        messages.success(request, f"{len(made)} parts of {made[0].name} are entered{joints}.")
        return redirect("part", slug, made[0].part)
    return show(
        request,
        "register/assemblies.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        form=form,
        templates=AssemblyTemplate.objects.filter(withdrawn_at=None),
        places=names_of_places(car),
        assemblies=assemblies_of(car),
    )


@login_required
@require_POST
def keep(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """A part with all below it becomes a template."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    name = request.POST.get("name", "").strip() or found.name
    made = make_template(part=found, name=name, by=request.user)
    messages.success(request, _told(made))
    return redirect("part", slug, found.part)


@login_required
@require_POST
def keep_group(request: HttpRequest, slug: str) -> HttpResponse:
    """An assembly as the drawing of a stripped car has it becomes a template."""
    car = open_car_to_write(request, slug)
    group = request.POST.get("group", "")
    groups = strip_question(folder_of(car)).groups
    parts = [part for part, its in groups.items() if its == group]
    name = request.POST.get("name", "").strip() or group
    made = make_template_of(car=car, parts=parts, name=name, by=request.user)
    messages.success(request, _told(made))
    return redirect("enter-assembly", slug)


def _told(made: AssemblyTemplate) -> str:
    joints = f" and {made.joints_n} joints between them" if made.joints_n else ""
    return f"{made.name} is a template now, with {len(made.rows)} parts{joints}."


@login_required
@require_POST
def drop(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """A template is offered no longer."""
    open_car_to_write(request, slug)
    template = AssemblyTemplate.objects.filter(pk=pk, withdrawn_at=None).first()
    if template is not None:
        reason = request.POST.get("reason", "")
        withdraw_template(template=template, reason=reason, by=request.user)
        said = f"{template.name} is offered no longer; parts made of it stay."
        offer_workshop_undo(request, said, kind="template", pk=template.pk)
    return redirect("enter-assembly", slug)
