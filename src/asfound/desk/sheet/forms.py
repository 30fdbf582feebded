"""The forms of the sheet: what a tape says, and what the car is."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.base import InputError
from asfound.desk.sheet.lengths import LABELS, LENGTHS, Length, in_words
from asfound.exchange.cells import Refusal, check_cell
from asfound.measure.sheet import BodyForm, TapeMeasurements, complete, unfolded_sheet
from asfound.record.tables import TABLES, Column, Form

_NO_COLUMNS = ";"
"""A number typed into a field stands between no commas, so a decimal comma is plain."""
_TEXT_MOST = 120


class CheckedField(forms.CharField):
    """A field under the rule of a column."""

    def __init__(self, column: Column, **options: Any) -> None:
        super().__init__(**{"max_length": _TEXT_MOST, "required": column.required, **options})
        self.column = column
        self.widget.attrs["autocomplete"] = "off"

    def clean(self, value: Any) -> str:
        """Text of the cell as the record keeps it."""
        text = str(super().clean(value))
        if not text:
            return ""
        checked = check_cell(text, self.column, separator=_NO_COLUMNS)
        if isinstance(checked, Refusal):
            raise forms.ValidationError(f"{checked.rule}. {checked.remedy}")
        return checked


class LengthField(CheckedField):
    """A length in mm."""

    def __init__(self, length: Length) -> None:
        rule = Column(
            name=length.label,
            form=Form.NUMBER,
            unit="mm",
            least=length.least_mm,
            most=length.most_mm,
        )
        super().__init__(rule, required=length.needed, max_length=12, label=length.label)
        self.length = length
        self.help_text = length.hold
        self.error_messages["required"] = f"{length.label} is still to be measured."
        self.widget.attrs["inputmode"] = "decimal"


class TapeForm(forms.Form):
    """Body form and lengths; when valid, ``panels`` and ``assumed`` stand in the cleaned data."""

    form = forms.ChoiceField(
        label="Body form", choices=[(form.value, form.value) for form in BodyForm]
    )
    separate_wings = forms.BooleanField(
        label="The wings are panels of their own, with a running board between them",
        required=False,
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for length in LENGTHS:
            self.fields[length.name] = LengthField(length)

    @property
    def needed(self) -> list[forms.BoundField]:
        """Fields of the lengths without which nothing can be drawn."""
        return [self[length.name] for length in LENGTHS if length.needed]

    @property
    def further(self) -> list[forms.BoundField]:
        """Fields of the lengths that may wait."""
        return [self[length.name] for length in LENGTHS if not length.needed]

    @property
    def body(self) -> BodyForm:
        """The form that is chosen, or the first of all."""
        named = self.data.get("form", "") if self.is_bound else self.initial.get("form", "")
        return BodyForm(named) if named in set(BodyForm) else BodyForm.SALOON

    @property
    def has_separate_wings(self) -> bool:
        """Whether wings apart are asked for."""
        return self.is_bound and "separate_wings" in self.data

    def taken(self) -> dict[str, float]:
        """Lengths that were typed and are lawful each by itself."""
        found = ((length.name, self.cleaned_data.get(length.name)) for length in LENGTHS)
        return {name: float(text) for name, text in found if text}

    def clean(self) -> dict[str, Any]:
        """Panels drawn from the lengths; what contradicts is told at the length it stands in."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        form, apart, taken = BodyForm(cleaned["form"]), cleaned["separate_wings"], self.taken()
        try:
            tape = TapeMeasurements(**taken)
            cleaned["panels"] = unfolded_sheet(form, tape, separate_wings=apart)
            cleaned["assumed"] = complete(form, tape, separate_wings=apart).assumed
        except InputError as error:
            self._tell(error)
        return cleaned

    def told(self) -> dict[str, Any]:
        """What the sheet was drawn from, for the log."""
        cleaned = self.cleaned_data
        return {
            "form": cleaned["form"],
            "separate_wings": cleaned["separate_wings"],
            **self.taken(),
            "assumed": list(cleaned["assumed"]),
        }

    def _tell(self, error: InputError) -> None:
        name = LABELS.get(error.field, error.field)
        unit = " mm" if isinstance(error.got, int | float) else ""
        got = f"{error.got:g}" if isinstance(error.got, int | float) else error.got
        words = f"{name} is {got}{unit}; it must be {in_words(error.allowed)}. {error.remedy}"
        self.add_error(error.field if error.field in self.fields else None, words.strip())


class IdentityForm(forms.Form):
    """What the car is, as ``car.csv`` tells it."""

    marque = CheckedField(TABLES["car"].column("marque"))
    model = CheckedField(TABLES["car"].column("model"))
    built = CheckedField(
        TABLES["car"].column("built"), help_text="As 1961, 1961-05, 1961~ (about) or 1958/1963."
    )
    body_style = CheckedField(
        TABLES["car"].column("body_style"),
        label="Body style",
        required=False,
        help_text="Empty: the body form above.",
    )
    registration = CheckedField(TABLES["car"].column("registration"))
    currency = CheckedField(
        TABLES["car"].column("currency"), initial="EUR", help_text="For every cost of this car."
    )
