"""Forms of errands: sending out, coming back, correcting, a paper."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone

from asfound.desk.errands.named import find_parts, names_in, unknown_among
from asfound.desk.observed.forms import RowForm, cell
from asfound.exchange.papers import ACCEPTED
from asfound.record.models import Car, Part

_FREE = {"autocomplete": "off"}
_DAY = {"type": "date", "autocomplete": "off"}
_MONEY = {"autocomplete": "off", "inputmode": "decimal"}
_CAMERA = {"accept": ACCEPTED}
MOST_PARTS = 200


def _today() -> str:
    return timezone.localdate().isoformat()


def _paper(label: str = "paper") -> forms.FileField:
    return forms.FileField(
        label=label,
        required=False,
        widget=forms.FileInput(attrs=_CAMERA),
        help_text="a PDF, or a photograph of the delivery note",
    )


class _Errand(RowForm):
    """A row of the errands, asked in the order in which one thinks of it."""

    table = "errands"
    to = cell("to whom", {**_FREE, "list": "firms"})
    work = cell("for what", {**_FREE, "list": "works"})
    due_on = cell("due back", _DAY, required=False)
    sent_on = cell("sent", _DAY)
    cost = cell("cost agreed", _MONEY, required=False)
    note = cell("note", _FREE, required=False)


class SendForm(_Errand):
    """Parts going out."""

    parts = forms.CharField(
        label="numbers or tags of the parts",
        max_length=8_000,
        widget=forms.TextInput(attrs={**_FREE, "autocapitalize": "characters"}),
        help_text="several with commas between them",
    )
    paper = _paper()
    field_order = ("parts", "to", "work", "due_on", "sent_on", "cost", "note", "paper", "key")

    def __init__(self, *args: Any, car: Car, **options: Any) -> None:
        super().__init__(*args, **options)
        self._car = car
        self.initial.setdefault("sent_on", _today())

    def typed(self, cleaned: dict[str, Any]) -> dict[str, str]:
        """Cells as they were typed; the paper is kept once the parts are on their way."""
        return {name: cell for name, cell in super().typed(cleaned).items() if name != "paper"}

    def clean_parts(self) -> list[Part]:
        """Parts of the car, each once; the row is checked with the first of them."""
        names = names_in(self.cleaned_data["parts"])
        if not names or len(names) > MOST_PARTS:
            raise forms.ValidationError(f"Name one part or more, at most {MOST_PARTS} at once.")
        parts = find_parts(self._car, names)
        unknown = unknown_among(names, parts)
        if unknown:
            raise forms.ValidationError(f"The car has no part {', '.join(unknown)}.")
        self.fixed = {"part": parts[0].part}
        return parts


class BackForm(RowForm):
    """A part coming back: when, where it lies now, and what it cost."""

    table = "errands"
    place = cell("where it lies now", {**_FREE, "list": "places"})
    back_on = cell("back", _DAY)
    cost = cell("cost", _MONEY, required=False)
    paper = _paper("invoice or report")
    field_order = ("place", "back_on", "cost", "paper", "key")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("back_on", _today())
        self.initial.setdefault("cost", self.fixed.get("cost", ""))

    def typed(self, cleaned: dict[str, Any]) -> dict[str, str]:
        """Cells as they were typed."""
        return {name: str(cleaned[name]).strip() for name in ("back_on", "cost")}


class CorrectForm(_Errand):
    """An errand told rightly, and why; days may be months or spans, as tables write them."""

    sent_on = cell("sent", _FREE)
    due_on = cell("due back", _FREE, required=False)
    back_on = cell("back", _FREE, required=False)
    reason = cell("Why", _FREE)
    field_order = ("to", "work", "sent_on", "due_on", "back_on", "cost", "note", "reason", "key")


class WithdrawForm(forms.Form):
    """Why an errand should not count, and where its part lies."""

    place = forms.CharField(
        label="where the part lies",
        required=False,
        widget=forms.TextInput(attrs={**_FREE, "list": "places"}),
    )
    reason = forms.CharField(label="Why", max_length=400, widget=forms.TextInput(attrs=_FREE))


class PaperForm(forms.Form):
    """One more paper."""

    paper = forms.FileField(
        label="paper",
        widget=forms.FileInput(attrs=_CAMERA),
        help_text="a PDF or a photograph: quote, delivery note, report, invoice",
    )
