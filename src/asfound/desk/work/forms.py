"""Forms of a card: begin, end, materials, results; and each told rightly afterwards."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.utils import timezone

from asfound.desk.observed.forms import NUMBER, WORDS, ReasonMixin, RowForm, cell
from asfound.record.actions.photo import STAGES
from asfound.record.convert.worked import moment, written

_CAMERA = {"accept": "image/*", "capture": "environment"}
_LOCAL = "%Y-%m-%dT%H:%M"


class PauseForm(forms.Form):
    """A press; ``key`` is made by the page, so that what is sent twice counts once."""

    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)


class _WithPhoto(PauseForm):
    """A photograph where the treatment asks for one, or the reason why there is none."""

    stage = ""
    photo = forms.FileField(
        label="photograph", required=False, widget=forms.FileInput(attrs=_CAMERA)
    )
    no_photo = forms.CharField(
        label="or why there is none",
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs=WORDS),
    )

    def __init__(self, *args: Any, photo_needed: bool, **options: Any) -> None:
        super().__init__(*args, **options)
        self.photo_needed = photo_needed
        self.fields["photo"].label = f"photograph {self.stage}"
        if not photo_needed:
            del self.fields["photo"], self.fields["no_photo"]

    def clean(self) -> dict[str, Any]:
        """One of the two."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        has = cleaned.get("photo") or cleaned.get("no_photo", "").strip()
        if self.photo_needed and not has and not self.errors:
            self.add_error("photo", "Take a photograph, or say why there is none.")
        return cleaned


class BeginForm(_WithPhoto):
    """Cautions read, and the photograph before."""

    stage = "before"
    read = forms.BooleanField(
        label="I have read the cautions",
        error_messages={"required": "Read the cautions and tick this; then begin."},
    )

    def __init__(self, *args: Any, has_cautions: bool, **options: Any) -> None:
        super().__init__(*args, **options)
        if not has_cautions:
            del self.fields["read"]


class DoneForm(_WithPhoto):
    """The photograph after."""

    stage = "after"


class PhotoForm(PauseForm):
    """A photograph taken while the work goes on."""

    photo = forms.FileField(
        label="photograph",
        widget=forms.FileInput(attrs=_CAMERA),
        error_messages={"required": "Take a photograph first."},
    )
    stage = forms.ChoiceField(label="when", choices=[(one, one) for one in STAGES])


class MaterialForm(RowForm):
    """A material that was used, with its batch."""

    table = "materials_used"
    material = cell("material", {**WORDS, "list": "materials"})
    batch = cell("batch", WORDS)
    amount = cell("how much", NUMBER, required=False)
    unit = cell("unit", {**WORDS, "list": "units"}, required=False)
    note = cell("note", WORDS, required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["batch"].help_text = "as the tin says; “not marked” if it bears none"


class ResultForm(RowForm):
    """A result that was measured."""

    table = "results"
    kind = cell("what was measured", {**WORDS, "list": "result-kinds"})
    value = cell("value", NUMBER)
    unit = cell("unit", {**WORDS, "list": "result-units"})
    least = cell("to be at least", NUMBER, required=False)
    most = cell("at most", NUMBER, required=False)
    tool = cell("with which tool", {**WORDS, "list": "tools"})
    note = cell("note", WORDS, required=False)

    def clean(self) -> dict[str, Any]:
        """Bounds the right way round."""
        cleaned = super().clean()
        cells = cleaned.get("cells", {})
        least, most = cells.get("least"), cells.get("most")
        if least and most and float(least) > float(most):
            self.add_error("most", f"“At most” must be {least} or more, as “at least” is.")
        return cleaned


class CorrectMaterialForm(ReasonMixin, MaterialForm):
    """A material told rightly, and why."""


class CorrectResultForm(ReasonMixin, ResultForm):
    """A result told rightly, and why."""


class CorrectStretchForm(ReasonMixin, RowForm):
    """A stretch of work told rightly, and why; times are local."""

    table = "worked"
    person = cell("who", WORDS)
    from_at = cell("from", {"type": "datetime-local"})
    to_at = cell("to", {"type": "datetime-local"}, required=False)
    done = forms.ChoiceField(
        label="was the task done then?", required=False, choices=(("", "no"), ("yes", "yes"))
    )
    note = cell("note", WORDS, required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["to_at"].help_text = "empty while it goes on"
        for name in ("from_at", "to_at"):
            at = moment(str(self.initial.get(name, "")))
            if at is not None:
                self.initial[name] = timezone.localtime(at).strftime(_LOCAL)

    def typed(self, cleaned: dict[str, Any]) -> dict[str, str]:
        """Cells with times as the tables write them."""
        cells = super().typed(cleaned)
        for name in ("from_at", "to_at"):
            at = _local(cells[name])
            if at is not None:
                cells[name] = written(at)
        return cells

    def clean(self) -> dict[str, Any]:
        """Times that are times, in their order."""
        cleaned = super().clean()
        cells = cleaned.get("cells", {})
        begun, ended = moment(cells.get("from_at", "")), moment(cells.get("to_at", ""))
        for name, at in (("from_at", begun), ("to_at", ended)):
            if cells.get(name) and at is None:
                self.add_error(name, "Write a day and a time: 2026-03-02T08:30.")
        if begun and ended and ended < begun:
            self.add_error("to_at", "It cannot end before it began.")
        if begun and begun > timezone.now():
            self.add_error("from_at", "It cannot have begun later than now.")
        if cells.get("done") == "yes" and not cells.get("to_at"):
            self.add_error("to_at", "Say when it was done.")
        return cleaned


def _local(text: str) -> Any:
    at = moment(text)
    if at is None or text.endswith("Z") or "+" in text:
        return at
    return timezone.make_aware(at.replace(tzinfo=None))
