"""A band turned into evidence by a person, and taken back."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from asfound.base import AsfoundError, InputError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.survey.band_forms import BandEvidenceForm
from asfound.desk.survey.beside import support_words
from asfound.desk.survey.finish import read_finish
from asfound.measure.film import FilmReading
from asfound.record.actions import take_back_band_evidence, use_band_as_evidence
from asfound.record.convert.film_base import band_of
from asfound.record.convert.stored import folder_of
from asfound.record.models import FilmBand
from asfound.record.results.film import TWO_SIDED

WHOLE = "finish of the car"


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A subject that was read: what was taken of it, and its figure."""

    subject: str
    what: str
    figure: str

    @property
    def words(self) -> str:
        """Reading in words, as the evidence tells it."""
        return f"{self.what}, {self.figure}"


@login_required
@require_http_methods(["GET", "POST"])
def use_band(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Form that makes a row of the car's evidence from a band; nothing enters without it."""
    car = open_car_to_write(request, slug)
    row = FilmBand.objects.current().filter(pk=pk).first()
    if row is None:
        raise Http404(f"no band {pk} counts")
    try:
        read = _subjects(read_finish(folder_of(car)))
    except AsfoundError as error:
        messages.warning(request, str(error))
        return redirect("survey", slug)
    form = BandEvidenceForm(
        request.POST or None,
        subjects=[one.subject for one in read],
        initial={"subject": request.GET.get("panel") or WHOLE},
    )
    if form.is_valid():
        given = form.cleaned_data
        words = next(one.words for one in read if one.subject == given["subject"])
        try:
            use_band_as_evidence(car=car, row=row, read=words, by=request.user, **given)
        except InputError as error:
            form.add_error(None, str(error))
        else:
            said = f"Entered as evidence on {given['subject']}: {support_words(given['lr'])}."
            messages.success(request, said)
            return redirect(f"{reverse('survey', args=(slug,))}?whole=1#beside")
    return show(
        request,
        "survey/band_evidence.html",
        status=422 if form.is_bound else 200,
        car=car,
        room="survey",
        row=row,
        band=band_of(row),
        form=form,
        read=read,
        two_sided=TWO_SIDED,
    )


@login_required
@require_POST
def take_back(request: HttpRequest, slug: str) -> HttpResponse:
    """Take an item out of the evidence again, with the reason."""
    car = open_car_to_write(request, slug)
    take_back_band_evidence(
        car=car,
        subject=request.POST.get("subject", ""),
        item=request.POST.get("item", ""),
        reason=request.POST.get("reason", "")[:400],
        by=request.user,
    )
    messages.success(request, "It is no longer among the evidence; the log keeps it.")
    return redirect(f"{reverse('survey', args=(slug,))}?whole=1#beside")


def _subjects(reading: FilmReading) -> list[Read]:
    """The finish as a whole, then every panel that has a spot."""
    level = reading.level_um
    whole = f"{level.value:.0f} ± {level.expanded(coverage=0.95):.0f} µm (95 %)"
    return [
        Read(subject=WHOLE, what="the car's level", figure=whole),
        *(
            Read(
                subject=panel.panel,
                what=f"median of {panel.panel}",
                figure=f"{panel.median_um:.0f} µm in {_spots(panel.spots_n)}",
            )
            for panel in reading.panels
            if panel.spots_n
        ),
    ]


def _spots(count: int) -> str:
    return "1 spot" if count == 1 else f"{count} spots"
