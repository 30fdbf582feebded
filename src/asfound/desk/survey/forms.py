"""The forms of the survey: a spot, a correction, a withdrawal, a file."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.conf import settings
from django.core.files.uploadedfile import UploadedFile

from asfound.desk.tables.cell import TableCell
from asfound.record.tables import TABLES

FILM = TABLES["film"]
READINGS_A_SPOT = 3
MOST_AT_ONCE = 12
"""More readings than anybody takes on one spot: a sender that is not this page."""


class FilmCell(TableCell):
    """A cell of ``film.csv``, numbers as numbers."""

    def __init__(self, column: str, **options: Any) -> None:
        super().__init__(FILM.column(column), **options)

    def clean(self, value: Any) -> Any:
        """Text of the cell, numbers as numbers."""
        text = super().clean(value)
        return float(text) if self.column.unit and text else text


class SpotForm(forms.Form):
    """A place on the panel with readings of one gauge: three fields, more from a sender."""

    x_mm = FilmCell("x_mm")
    y_mm = FilmCell("y_mm")
    spot = FilmCell("spot", required=False)
    gauge = FilmCell("gauge", required=False)
    more = forms.BooleanField(required=False)
    key = forms.CharField(required=False, max_length=64)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)

    def clean_spot(self) -> str:
        """Name of the spot; empty for a new one."""
        return str(self.cleaned_data["spot"])

    def clean(self) -> dict[str, Any]:
        """Readings beside their place, every one under the column's rule."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        cleaned["thickness_um"] = []
        for text in self.thickness_as_typed():
            if text:
                try:
                    cleaned["thickness_um"].append(FilmCell("thickness_um").clean(text))
                except forms.ValidationError as error:
                    self.add_error(None, error)
        if not cleaned["thickness_um"] and not self.errors:
            self.add_error(None, "There is no reading. Type at least one number in µm.")
        if len(cleaned["thickness_um"]) > MOST_AT_ONCE:
            told = f"There are more than {MOST_AT_ONCE} readings. Send them as spots of their own."
            self.add_error(None, told)
        return cleaned

    def thickness_as_typed(self) -> list[str]:
        """The numbers as they were typed, for the form to show again."""
        typed = self.data.getlist("thickness_um") if self.is_bound else []  # type: ignore[attr-defined]  # a QueryDict
        numbers = [text.strip() for text in typed]
        return numbers + [""] * (READINGS_A_SPOT - len(numbers))


class CorrectionForm(forms.Form):
    """What a reading should have been, and why."""

    thickness_um = FilmCell("thickness_um", label="film µm")
    x_mm = FilmCell("x_mm", label="x mm")
    y_mm = FilmCell("y_mm", label="y mm")
    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )


class WithdrawalForm(forms.Form):
    """Why a reading should not count."""

    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )


class ReadingsFileForm(forms.Form):
    """A file of readings."""

    file = forms.FileField(
        label="File of readings",
        help_text="A spreadsheet (.xlsx), CSV or text of 20 MB at most.",
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.txt,.tsv,text/csv,text/plain"}),
    )

    def clean_file(self) -> UploadedFile[Any]:
        """File, unless it is too large."""
        upload: UploadedFile[Any] = self.cleaned_data["file"]
        if (upload.size or 0) > settings.MAX_TABLE_UPLOAD_BYTES:
            raise forms.ValidationError(
                f"{upload.name} has {(upload.size or 0) / 1e6:,.0f} MB; a table may have 20 MB "
                "at most. Check that this is the right file; split a survey of many cars by car."
            )
        return upload
