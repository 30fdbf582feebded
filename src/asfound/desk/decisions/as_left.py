"""What is left of a piece after the work: looked at, and written down in one line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from asfound.desk.access import open_car_to_write
from asfound.desk.tables.new_row import NewRow
from asfound.desk.work.who import worker_in
from asfound.record.convert.finished import Finished, not_looked_at
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder

_PER_CENT = "A share in per cent, from 0 to 100."


class AsLeftForm(NewRow):
    """Which share of a finished piece is still there."""

    table = "as_left"
    subject = forms.CharField(widget=forms.HiddenInput)
    still = forms.DecimalField(
        label="still there, %",
        min_value=0,
        max_value=100,
        localize=False,
        error_messages={"required": _PER_CENT, "invalid": _PER_CENT},
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    note = forms.CharField(
        label="note",
        required=False,
        max_length=400,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, by: str, piece: Finished, **options: Any) -> None:
        first = {"subject": piece.subject}
        super().__init__(*args, initial=first, auto_id=f"left-{piece.subject}-%s", **options)
        self.by, self.piece = by, piece

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new row; the day is that on which its work ended."""
        return {
            "subject": self.piece.subject,
            "done_on": (self.piece.ended or timezone.localdate()).isoformat(),
            "kept": f"{typed['still'] / 100:f}",
            "by": self.by,
            "note": typed["note"].strip(),
        }

    def field_of(self, column: str) -> str | None:
        """The share is typed in per cent."""
        return "still" if column == "kept" else None


def as_left_forms(
    request: HttpRequest, folder: CarFolder, *, subject: str = ""
) -> Iterator[AsLeftForm]:
    """A form for each finished piece that nobody has looked at, or for that one."""
    by = worker_in(request, folder)
    for piece in not_looked_at(folder):
        if subject in ("", piece.subject):
            yield AsLeftForm(folder=folder, by=by, piece=piece)


@login_required
@require_POST
def keep(request: HttpRequest, slug: str) -> HttpResponse:
    """Keep what is left of one finished piece."""
    car = open_car_to_write(request, slug)
    folder, subject = folder_of(car), request.POST.get("subject", "")
    empty = next(as_left_forms(request, folder, subject=subject), None)
    if empty is None:
        raise Http404(subject)
    typed = request.POST.copy()
    typed["still"] = typed.get("still", "").strip().removesuffix("%").strip().replace(",", ".")
    form = AsLeftForm(typed, folder=folder, by=empty.by, piece=empty.piece)
    if form.is_valid() and form.keep(car, by=request.user):
        messages.success(request, f"Kept: {form.cleaned_data['still']} % of {subject} is left.")
    else:
        wrong = " ".join(str(text) for several in form.errors.values() for text in several)
        messages.warning(request, f"{subject}: not kept. {wrong}")
    return redirect("ledger-steps", slug)
