"""The form that takes a car folder."""

from __future__ import annotations

from typing import Any

from django import forms
from django.conf import settings
from django.core.files.uploadedfile import UploadedFile

LOAD_AGAIN = "Load it again over the car of that name"


class FolderForm(forms.Form):
    """A zipped car folder."""

    folder = forms.FileField(
        label="Car folder, zipped",
        help_text="A zip file of 512 MB at most.",
        widget=forms.FileInput(attrs={"accept": ".zip,application/zip"}),
    )

    replace = forms.BooleanField(
        label=LOAD_AGAIN,
        help_text="Its people stay; its old readings and decisions are kept, but count no longer.",
        required=False,
    )

    def clean_folder(self) -> UploadedFile[Any]:
        """File, unless it is too large."""
        upload: UploadedFile[Any] = self.cleaned_data["folder"]
        if (upload.size or 0) > settings.MAX_CAR_UPLOAD_BYTES:
            raise forms.ValidationError(
                f"{upload.name} has {(upload.size or 0) / 1e6:,.0f} MB; a zipped car folder may "
                "have 512 MB at most. Leave out the largest photographs and load it again."
            )
        return upload
