"""Forms of the photographs."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.photos.subjects import find_subject
from asfound.record.models import Car

MOST_BYTES = 120_000_000
"""As large as one photograph may be: 50 million pixels as PNG stay below."""
MOST_AT_ONCE = 100
ACCEPTED = "image/jpeg,image/png,image/heic,image/heif,.heic,.heif"
_STAGES = (
    ("before", "before the work"),
    ("during", "during the work"),
    ("after", "after the work"),
)


class _Files(forms.FileInput):
    allow_multiple_selected = True


class _FilesField(forms.FileField):
    """Any number of files; each is looked at for itself, by the record's own eyes."""

    def clean(self, data: Any, initial: Any = None) -> list[Any]:
        """Files as they came."""
        files = data if isinstance(data, list | tuple) else [data] if data else []
        if len(files) > MOST_AT_ONCE:
            raise forms.ValidationError(
                f"{len(files)} files at once are too many; send at most {MOST_AT_ONCE}."
            )
        return list(files)


class SortForm(forms.Form):
    """What a photograph shows, how, and when in the work."""

    subject = forms.CharField(
        label="what it shows",
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off", "list": "subjects"}),
        help_text="a part's number, tag or name, a panel, or the car",
    )
    view = forms.CharField(
        label="how",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "off", "list": "views"}),
        help_text="whole, marks, fixing places … or your own word",
    )
    stage = forms.ChoiceField(label="when", choices=_STAGES, initial="before")

    def __init__(self, *args: Any, car: Car, **options: Any) -> None:
        super().__init__(*args, **options)
        self._car = car

    def clean_subject(self) -> str:
        """Name under which the record knows it."""
        found = find_subject(self._car, self.cleaned_data["subject"])
        if found is None:
            raise forms.ValidationError(
                "The car has no part, panel or piece of this name, or several. "
                "Give the number, or enter the part first."
            )
        return found


class AddForm(SortForm):
    """Photographs to be kept."""

    sent = _FilesField(
        label="from the gallery or a folder",
        required=False,
        widget=_Files(attrs={"accept": ACCEPTED}),
    )
    camera = _FilesField(
        label="with the camera",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
    )
    by_labels = forms.BooleanField(
        label="sort by the labels between them",
        required=False,
        help_text="a photograph of a label begins its part; those after it, in the order of their "
        "file names, belong to that part",
    )
    field_order = ("sent", "camera", "subject", "view", "stage", "by_labels")

    def clean(self) -> dict[str, Any]:
        """Files of both ways in, together."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        both = [*(cleaned.get("sent") or []), *(cleaned.get("camera") or [])]
        if not both and not self.errors:
            self.add_error("sent", "No photograph is chosen yet.")
        return {**cleaned, "both": both}


class SortAgainForm(SortForm):
    """A photograph sorted anew, and why."""

    reason = forms.CharField(
        label="why", max_length=300, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )


class WithdrawForm(forms.Form):
    """Why a photograph is shown no longer."""

    reason = forms.CharField(
        label="why", max_length=300, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
