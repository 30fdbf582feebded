"""The forms of the bands of film, of evidence made from one, and of the workshop's base."""

from __future__ import annotations

import math
from typing import Any

from django import forms
from django.utils import timezone

from asfound.base import InputError
from asfound.measure.base_of_films import FilmBand as Band
from asfound.record.actions.band_evidence import BASES
from asfound.record.models.film_band import About, Status

_LINE = {"autocomplete": "off"}


class PlainNumberField(forms.FloatField):
    """A number with a point or a comma; nothing stands between columns here."""

    def __init__(self, **options: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", **_LINE})
        super().__init__(**{"widget": widget, **options})

    def to_python(self, value: Any) -> Any:
        """Number, its decimal comma read as a point."""
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class YearField(forms.IntegerField):
    """A year that may be left open."""

    def __init__(self, **options: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "numeric", **_LINE})
        limits = {"min_value": 1850, "max_value": 2200}
        super().__init__(**{"widget": widget, "required": False, **limits, **options})


class ReasonForm(forms.Form):
    """Why something is changed or taken back."""

    reason = forms.CharField(label="Why", max_length=400, widget=forms.TextInput(attrs=_LINE))


class BandForm(forms.Form):
    """One row of the table; the source is part of every row."""

    about = forms.ChoiceField(label="It speaks of", choices=About.choices)
    era = forms.CharField(
        label="Time or kind, in the source's words",
        max_length=200,
        widget=forms.TextInput(attrs=_LINE),
    )
    marque = forms.CharField(
        label="Marque",
        max_length=200,
        required=False,
        help_text="Empty: any.",
        widget=forms.TextInput(attrs=_LINE),
    )
    first_year = YearField(label="Built from", help_text="Empty: open.")
    last_year = YearField(label="Built until", help_text="Empty: open.")
    low_um = PlainNumberField(label="From µm", min_value=0, max_value=50_000)
    high_um = PlainNumberField(
        label="To µm", min_value=0, max_value=50_000, required=False, help_text="Empty: or more."
    )
    source = forms.CharField(
        label="Source",
        max_length=400,
        help_text="Who says so. Rows of one source bear one name.",
        widget=forms.TextInput(attrs=_LINE),
    )
    note = forms.CharField(
        label="What else it says",
        max_length=400,
        required=False,
        widget=forms.TextInput(attrs=_LINE),
    )
    status = forms.ChoiceField(label="How far it was followed up", choices=Status.choices)

    def clean(self) -> dict[str, Any]:
        """Cells with the ``band`` that they make."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        cells = {name: cleaned[name] for name in BandForm.base_fields}
        if cells["high_um"] is None:
            cells["high_um"] = math.inf
        try:
            return {**cleaned, "band": Band(**cells)}
        except InputError as error:
            self.add_error(None, str(error))
            return cleaned


class CorrectBandForm(BandForm):
    """A row as it should be, and why."""

    reason = forms.CharField(label="Why", max_length=400, widget=forms.TextInput(attrs=_LINE))


class BandEvidenceForm(forms.Form):
    """What a person makes of a band: how strongly it speaks, on what ground, and why."""

    subject = forms.ChoiceField(label="It speaks of")
    lr = PlainNumberField(
        label="Likelihood ratio",
        min_value=1e-6,
        max_value=1e6,
        help_text="How many times more probable this reading is if undisturbed since built than "
        "if it carries later work. Above 1 speaks for, below 1 against; ½ to 2 is neutral.",
    )
    basis = forms.ChoiceField(
        label="Ground of that number",
        choices=[(basis, basis) for basis in BASES],
        initial="guess",
        help_text="Data, if you counted cars; otherwise a guess.",
    )
    reason = forms.CharField(label="Why", max_length=400, widget=forms.TextInput(attrs=_LINE))

    def __init__(self, *args: Any, subjects: list[str], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["subject"].choices = [(name, name) for name in subjects]  # type: ignore[attr-defined]  # a ChoiceField


class ConsentForm(forms.Form):
    """The owner's consent to give the car's level to the base."""

    kind = forms.CharField(
        label="Kind of car or finish",
        max_length=120,
        help_text="By which you group your cars, such as hand-finished saloon.",
        widget=forms.TextInput(attrs={"list": "kinds", **_LINE}),
    )
    consent_by = forms.CharField(
        label="The owner who agreed, by name",
        max_length=200,
        widget=forms.TextInput(attrs=_LINE),
    )
    consent_on = forms.DateField(
        label="Agreed on", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def clean_consent_on(self) -> Any:
        """Day of consent, which cannot be still to come."""
        day = self.cleaned_data["consent_on"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day} is still to come; consent is given before.")
        return day
