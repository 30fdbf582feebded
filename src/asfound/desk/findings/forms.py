"""Forms of findings: what was observed, and apart from it what somebody makes of it."""

from __future__ import annotations

import uuid
from typing import Any

import shapely
from django import forms

from asfound.base import InputError
from asfound.craft.conditions import SEVERITIES
from asfound.craft.photographs import BESIDE_IT
from asfound.desk.survey.places import check_on_panel
from asfound.desk.tables.cell import TableCell
from asfound.record.convert.findings import area_words
from asfound.record.convert.photo_marks import Mark, marks_text
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

FINDINGS = TABLES["findings"]
_FREE = {"autocomplete": "off"}
_RING = 0.06
"""Half of the ring around a place on a photograph that was only tapped: share of its width."""
CORNERS = ("left", "top", "right", "bottom")
_ACTIVE = (("", "not known"), ("yes", "still going on"), ("no", "at rest"))


def _line(label: str, *, column: str, required: bool = True, **more: Any) -> TableCell:
    attributes = {**_FREE, **more.pop("attrs", {})}
    return TableCell(
        FINDINGS.column(column),
        label=label,
        required=required,
        widget=forms.TextInput(attrs=attributes),
        **more,
    )


def _text(label: str, **more: Any) -> forms.CharField:
    area = forms.Textarea(attrs={"rows": 2, **_FREE})
    return forms.CharField(label=label, required=False, max_length=2_000, widget=area, **more)


class OpinionForm(forms.Form):
    """What somebody makes of a finding; it bears their name and leaves the finding as it is."""

    opinion = _text("what you make of it")
    active = forms.ChoiceField(label="does it go on?", required=False, choices=_ACTIVE)
    advice = _text("what you advise")

    def opinion_cells(self) -> dict[str, str]:
        """Cells of the opinion as they were typed."""
        return {name: self.cleaned_data[name].strip() for name in ("opinion", "active", "advice")}


class ObservedForm(forms.Form):
    """What was found: its kind, extent and severity, where it lies, its mark on a photograph.

    ``panel`` is the panel that places are on, or empty for a part that has no outline.
    """

    kind = _line("what it is", column="kind", attrs={"list": "kinds"}, max_length=80)
    extent = _line("how far it goes", column="extent", required=False, attrs={"list": "extents"})
    severity = forms.ChoiceField(
        label="how grave",
        choices=[(str(step.grade), step.word) for step in SEVERITIES],
        widget=forms.RadioSelect,
        error_messages={"required": "How grave is it? Touch one of the five."},
    )
    x_mm = _line("x mm", column="x_mm", required=False)
    y_mm = _line("y mm", column="y_mm", required=False)
    outline_wkt = TableCell(
        FINDINGS.column("outline_wkt"),
        required=False,
        max_length=20_000,
        widget=forms.HiddenInput,
    )
    note = _text("note: what you see, hear, smell")
    found_on = _line("found on", column="found_on", required=False)
    found_by = _line("found by", column="found_by", required=False)
    left = forms.CharField(label="left %", required=False, max_length=8)
    top = forms.CharField(label="top %", required=False, max_length=8)
    right = forms.CharField(label="right %", required=False, max_length=8)
    bottom = forms.CharField(label="bottom %", required=False, max_length=8)

    def __init__(self, *args: Any, folder: CarFolder, panel: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.folder, self.panel = folder, panel
        for name in CORNERS:
            self.fields[name].widget.attrs |= {"inputmode": "decimal", **_FREE}
        self.fields["severity"].widget.attrs |= {"class": "severity-choice"}
        if not panel:  # nothing can be outlined, so it is touched or typed
            self.fields["extent"].widget.attrs["required"] = True

    def clean(self) -> dict[str, Any]:
        """Extent and place from what was outlined, where they were left empty."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        outline = cleaned.get("outline_wkt", "")
        if outline:
            shape = shapely.from_wkt(outline)
            cleaned["extent"] = cleaned.get("extent") or area_words(shape)
            if not cleaned.get("x_mm") or not cleaned.get("y_mm"):
                middle = shape.representative_point()
                cleaned["x_mm"], cleaned["y_mm"] = f"{middle.x:.0f}", f"{middle.y:.0f}"
        if not cleaned.get("extent") and "extent" not in self.errors:
            self.add_error("extent", "How far does it go? Touch one, type it, or outline it.")
        if bool(cleaned.get("x_mm")) != bool(cleaned.get("y_mm")):
            self.add_error("x_mm", "A place has both x and y. Tap the panel, or leave both empty.")
        self._check_places(cleaned)
        cleaned["photo_marks"] = self._mark(cleaned)
        return cleaned

    def _check_places(self, cleaned: dict[str, Any]) -> None:
        if not self.panel or self.errors:
            return
        places = [(cleaned["x_mm"], cleaned["y_mm"])] if cleaned.get("x_mm") else []
        if cleaned.get("outline_wkt"):
            places += list(shapely.from_wkt(cleaned["outline_wkt"]).exterior.coords)
        try:
            for x, y in places:
                check_on_panel(self.folder, panel=self.panel, x_mm=float(x), y_mm=float(y))
        except InputFaultsError as error:
            self.add_error(None, " ".join(f"{f.rule}. {f.remedy}" for f in error.faults))

    def _mark(self, cleaned: dict[str, Any]) -> str:
        """Ring on the photograph from its corners in per cent; one point is ringed about."""
        typed = [cleaned.get(name, "").strip().replace(",", ".") for name in CORNERS]
        if not any(typed):
            return ""
        try:
            shares = [float(text) / 100 if text else None for text in typed]
            return marks_text((_ring(*shares),))
        except (ValueError, InputError):
            self.add_error(None, "The mark on the photograph wants numbers from 0 to 100 per cent.")
            return ""

    def observed_cells(self) -> dict[str, str]:
        """Cells of the observation."""
        names = (
            *("kind", "extent", "severity", "x_mm", "y_mm", "outline_wkt"),
            *("note", "found_on", "found_by", "photo_marks"),
        )
        return {name: self.cleaned_data[name].strip() for name in names}


def _ring(left: float | None, top: float | None, right: float | None, bottom: float | None) -> Mark:
    if left is None or top is None:
        raise ValueError("a ring begins somewhere")
    if right is None or bottom is None:
        left, right = max(left - _RING, 0), min(left + _RING, 1)
        top, bottom = max(top - _RING, 0), min(top + _RING, 1)
    return Mark(kind="ring", points=((left, top), (right, bottom)))


class FindingForm(OpinionForm, ObservedForm):
    """A new finding, with a photograph just taken or one that the record has."""

    photo = forms.FileField(
        label="photograph",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        help_text=BESIDE_IT,
    )
    on_photo = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    reopens = forms.BooleanField(label="This changes what was decided", required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)


class CorrectForm(ObservedForm):
    """A finding as it should read, and why."""

    reason = forms.CharField(label="why", max_length=400, widget=forms.TextInput(attrs=_FREE))


class WithdrawFindingForm(forms.Form):
    """Why a finding should not count."""

    reason = forms.CharField(label="why", max_length=400, widget=forms.TextInput(attrs=_FREE))


class PhotoForm(forms.Form):
    """A photograph of a finding that is there."""

    photo = forms.FileField(
        label="photograph",
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
    )
