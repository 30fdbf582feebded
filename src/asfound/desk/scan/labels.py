"""Labels as a PDF: for the parts of a car, for places, or for the salvage stock."""

from __future__ import annotations

from collections.abc import Sequence

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, refuse_readers, show
from asfound.dossier.labels import LABELS, Label, Paper, Roll, labels_pdf
from asfound.record.actions import give_tags
from asfound.record.models import Place
from asfound.record.reads.register import parts_of
from asfound.record.reads.salvage import stock

MOST_LABELS = 1_000
_OTHER = "other"


class LabelForm(forms.Form):
    """On which paper, and from which label on."""

    paper = forms.ChoiceField(
        label="paper",
        choices=[*((name, name) for name in LABELS), (_OTHER, "roll of another size")],
    )
    width_mm = forms.FloatField(label="width mm", required=False, min_value=15, max_value=210)
    height_mm = forms.FloatField(label="height mm", required=False, min_value=15, max_value=297)
    used = forms.IntegerField(
        label="labels of the first sheet that are used",
        initial=0,
        min_value=0,
        max_value=99,
        required=False,
    )
    q = forms.CharField(label="only those with", required=False)

    def on_paper(self) -> Paper:
        """Paper that was chosen."""
        chosen = self.cleaned_data["paper"]
        if chosen != _OTHER:
            return LABELS[chosen]
        sides = (self.cleaned_data["width_mm"], self.cleaned_data["height_mm"])
        if None in sides:
            raise InputError(field="width and height", got="empty", allowed="both sides in mm")
        return Roll(width_mm=sides[0], height_mm=sides[1])


@login_required
@require_http_methods(["GET", "POST"])
def part_labels(request: HttpRequest, slug: str) -> HttpResponse:
    """Labels of a car's parts; those without a tag get one when they are printed."""
    car = open_car_to_write(request, slug)
    form = LabelForm(request.POST or None, initial={"q": request.GET.get("q", "")})
    if request.method == "POST" and form.is_valid():
        give_tags(car=car, by=request.user)
        parts = parts_of(car, words=form.cleaned_data["q"])[:MOST_LABELS]
        labels = [
            Label(
                tag=part.tag,
                address=_address(request, part.tag),
                name=part.name,
                detail=f"{part.part} · {car}" if _adds(part.part, part.name) else f"{car}",
            )
            for part in parts
        ]
        return _pdf(labels, form, f"{slug}-labels.pdf")
    bare = car.parts.current().filter(tag="").count()
    return show(request, "scan/labels.html", car=car, room="parts", form=form, bare=bare)


@login_required
@require_http_methods(["GET", "POST"])
def place_labels(request: HttpRequest) -> HttpResponse:
    """Labels of the workshop's places."""
    refuse_readers(request)
    form = LabelForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        places = Place.objects.filter(withdrawn_at=None, name__icontains=form.cleaned_data["q"])
        labels = [
            Label(
                tag=place.tag,
                address=_address(request, place.tag),
                name=place.name,
                detail=place.get_kind_display().lower(),
            )
            for place in places[:MOST_LABELS]
        ]
        return _pdf(labels, form, "places-labels.pdf")
    return show(request, "scan/labels.html", form=form)


@login_required
@require_http_methods(["GET", "POST"])
def salvage_labels(request: HttpRequest) -> HttpResponse:
    """Labels of the pieces of the salvage stock."""
    refuse_readers(request)
    form = LabelForm(request.POST or None, initial={"q": request.GET.get("q", "")})
    if request.method == "POST" and form.is_valid():
        labels = [
            Label(
                tag=row.piece.tag,
                address=_address(request, row.piece.tag),
                name=row.name,
                detail=f"{row.piece.number} · {row.kind}",
            )
            for row in stock(words=form.cleaned_data["q"])[:MOST_LABELS]
        ]
        return _pdf(labels, form, "salvage-labels.pdf")
    return show(request, "scan/labels.html", form=form, of_stock=True)


def _adds(number: str, name: str) -> bool:
    """Whether a part's number tells more than its name."""
    return number.casefold() != name.casefold()


def _address(request: HttpRequest, tag: str) -> str:
    return request.build_absolute_uri(reverse("tag", args=(tag,)))


def _pdf(labels: Sequence[Label], form: LabelForm, name: str) -> HttpResponse:
    data = labels_pdf(labels, paper=form.on_paper(), first=form.cleaned_data["used"] or 0)
    return HttpResponse(
        data,
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
