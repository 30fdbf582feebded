"""Forms of money: a document of a supplier, one line of it, a payment, the workshop's settings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from django import forms
from django.utils import timezone

from asfound.desk.money.opened import Opened
from asfound.desk.observed.forms import NUMBER, WORDS, RowForm, cell
from asfound.desk.photos.subjects import find_subject
from asfound.desk.tables.checking import Checked, check_rows
from asfound.desk.tables.fault_words import fault_words
from asfound.exchange.papers import ACCEPTED
from asfound.plan.money import minor_digits, rounded
from asfound.record.convert.money_documents import name_of
from asfound.record.convert.money_rates import rates_of
from asfound.record.folder import CarFolder, Row
from asfound.record.tables import TABLES
from asfound.record.tables.money import KINDS

MORE_LINES = 4
_DAY = {"type": "date", "autocomplete": "off"}
_COLUMNS = TABLES["purchases"].columns


def check_purchases(
    folder: CarFolder, rows: Sequence[dict[str, str]], *, instead_of: dict[str, str] | None = None
) -> Checked:
    """Rows of a document beside every other purchase of the car, one of which they may replace."""
    there = [dict(row.cells) for row in folder.sheet("purchases")]
    place = len(there)
    if instead_of is not None:
        held = [{k: v for k, v in row.items() if v} for row in there]
        place = held.index({k: v for k, v in instead_of.items() if v})
    before = check_rows(there, _COLUMNS, table="purchases", folder=folder).faults if there else ()
    old = {(fault.column, fault.rule, fault.value) for fault in before}
    there[place : place + (instead_of is not None)] = rows
    checked = check_rows(there, _COLUMNS, table="purchases", folder=folder)
    faults = tuple(
        replace(fault, row=fault.row - place)
        for fault in checked.faults
        if (fault.column, fault.rule, fault.value) not in old
    )
    return Checked(rows=checked.rows[place : place + len(rows)], faults=faults)


class PurchaseForm(RowForm):
    """One line of a document told rightly, and why."""

    table = "purchases"
    kind = forms.ChoiceField(label="what it is", choices=[(kind, kind) for kind in KINDS])
    supplier = cell("supplier", WORDS)
    number = cell("number", WORDS)
    dated = cell("date", WORDS)
    subject = cell("piece", WORDS)
    what = cell("what for", WORDS, required=False)
    trade = cell("trade", WORDS, required=False)
    net = cell("without tax", NUMBER)
    tax_percent = cell("tax, %", NUMBER)
    total = cell("total with tax", NUMBER, required=False)
    follows = cell("order or quote that it follows", WORDS, required=False)
    last = forms.ChoiceField(
        label="nothing more comes on that order",
        choices=[("", "not said"), ("yes", "yes"), ("no", "no")],
        required=False,
    )
    change_order = cell("change order", WORDS, required=False)
    reason = cell("Why", WORDS)

    def check(self, row: dict[str, str]) -> Checked:
        """Row in its place among the others."""
        checked = check_purchases(self.folder, [row], instead_of=self.fixed)
        if checked.faults:
            return checked
        return replace(checked, rows=(_charged_alike(self.folder, self.fixed, checked.rows[0]),))


class PaymentForm(RowForm):
    """What the owner paid, or got back."""

    table = "payments"
    kind = forms.ChoiceField(
        label="what for",
        choices=[(word, word) for word in TABLES["payments"].column("kind").words],
    )
    amount = cell("amount, with tax", NUMBER)
    paid_on = cell("day", _DAY)
    note = cell("note", WORDS, required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("paid_on", timezone.localdate().isoformat())


class CorrectPaymentForm(PaymentForm):
    """A payment told rightly, and why."""

    paid_on = cell("day", WORDS)
    reason = cell("Why", WORDS)


class DocumentForm(forms.Form):
    """A document with its lines; a valid one has them in ``cleaned_data["rows"]``."""

    paper = forms.FileField(
        label="the paper",
        required=False,
        widget=forms.FileInput(attrs={"accept": ACCEPTED}),
        help_text="photograph it, or choose a PDF",
    )
    kind = forms.ChoiceField(
        label="what it is",
        choices=[(kind, kind) for kind in reversed(KINDS)],
        initial="invoice",
    )
    supplier = cell("supplier", {**WORDS, "list": "suppliers"})
    number = cell("its number", {**WORDS, "autocapitalize": "characters"})
    dated = cell("its date", _DAY)
    net = cell("without tax", NUMBER)
    tax_percent = forms.ChoiceField(label="tax")
    total = cell("total with tax", NUMBER, required=False)
    subject = cell("for which piece", {**WORDS, "list": "pieces"}, required=False)
    trade = cell("trade", {**WORDS, "list": "trades"}, required=False)
    what = cell("what for", WORDS, required=False)
    follows = cell("follows order or quote", {**WORDS, "list": "orders"}, required=False)
    last = forms.BooleanField(label="nothing more comes on that order", required=False)
    change_order = forms.ChoiceField(label="change order", required=False)
    note = cell("note", WORDS, required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, here: Opened, changes: Sequence[tuple[str, str]], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.here = here
        today = timezone.localdate()
        self.initial.setdefault("dated", today.isoformat())
        rates = rates_of(here.folder)
        tax: Any = self.fields["tax_percent"]
        tax.choices = _tax_choices(here.folder)
        self.initial.setdefault("tax_percent", f"{rates.charged_percent(today).normalize():f}")
        orders: Any = self.fields["change_order"]
        orders.choices = [("", "as first agreed"), *changes]
        of_line = [("", "as above"), *tax.choices]
        for n in range(2, MORE_LINES + 2):
            self.fields[f"what_{n}"] = cell("what for", WORDS, required=False)
            self.fields[f"net_{n}"] = cell("without tax", NUMBER, required=False)
            self.fields[f"tax_percent_{n}"] = forms.ChoiceField(
                label="tax", choices=of_line, required=False
            )
            self.fields[f"subject_{n}"] = cell("piece", {**WORDS, "list": "pieces"}, required=False)

    @property
    def more_lines(self) -> list[tuple[Any, ...]]:
        """Fields of further lines."""
        return [
            tuple(self[f"{name}_{n}"] for name in ("what", "net", "tax_percent", "subject"))
            for n in range(2, MORE_LINES + 2)
        ]

    def clean(self) -> dict[str, Any]:
        """Rows as the record keeps them, under the rules of the table's file."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        rows = self._rows(cleaned)
        if self.errors:
            return cleaned
        if self.here.car.arrivals.filter(key=cleaned["key"]).exists():
            return {**cleaned, "rows": rows}  # sent again: what came first was kept
        self._refuse_twice(rows[0])
        if self.errors:
            return cleaned
        checked = check_purchases(self.here.folder, rows)
        for fault in checked.faults:
            told = fault_words(fault, table="purchases")
            place = f"_{fault.row}" if fault.row > 1 else ""
            name = f"{fault.column}{place}"
            self.add_error(name if name in self.fields else None, told)
        if not self.errors:
            cleaned["rows"] = [self._charged(row) for row in checked.rows]
        return cleaned

    def _refuse_twice(self, row: dict[str, str]) -> None:
        name = name_of(Row(row, 0))
        if any(name_of(there) == name for there in self.here.folder.sheet("purchases")):
            told = f"The {row['kind']} {row['number']} of {row['supplier']} is entered already. "
            self.add_error("number", told + "Correct the one that is there, or check the number.")

    def _rows(self, cleaned: dict[str, Any]) -> list[dict[str, str]]:
        shared = {
            name: str(cleaned[name]).strip()
            for name in ("kind", "supplier", "number", "dated", "follows", "trade")
        }
        shared |= {
            "last": "yes" if cleaned["last"] else "",
            "change_order": cleaned["change_order"],
            "total": cleaned["total"],
            "note": cleaned["note"],
        }
        first = self._line(cleaned, "")
        more = (
            self._line(cleaned, f"_{n}")
            for n in range(2, MORE_LINES + 2)
            if cleaned.get(f"net_{n}")
        )
        return [{**shared, **line} for line in (first, *more)]

    def _line(self, cleaned: dict[str, Any], end: str) -> dict[str, str]:
        typed = cleaned.get(f"subject{end}", "")
        subject = find_subject(self.here.car, typed)
        if subject is None:
            self.add_error(
                f"subject{end}", f"The car has no piece “{typed}”. Leave it empty for the car."
            )
        return {
            "subject": subject or "",
            "what": cleaned.get(f"what{end}", ""),
            "net": cleaned[f"net{end}"],
            "tax_percent": cleaned[f"tax_percent{end}"] or cleaned["tax_percent"],
        }

    def _charged(self, row: dict[str, str]) -> dict[str, str]:
        """Row with what the owner is charged, where that is more than the supplier asks."""
        markup = self.here.settings.markup_percent
        if not markup:
            return row
        digits = minor_digits(self.here.currency)
        charged = rounded(Decimal(row["net"]) * (1 + markup / 100), digits=digits)
        return {**row, "charged_net": f"{charged}"}


def _charged_alike(
    folder: CarFolder, before: dict[str, str], now: dict[str, str]
) -> dict[str, str]:
    """The corrected row, its owner charged as much beyond what the supplier asks as before."""
    charged, was = before.get("charged_net", ""), Decimal(before["net"])
    if not charged or not was or Decimal(now["net"]) == was:
        return now
    currency = next((row.text("currency") for row in folder.sheet("car")), "")
    digits = minor_digits(currency) if currency else 2
    alike = rounded(Decimal(now["net"]) * Decimal(charged) / was, digits=digits)
    return {**now, "charged_net": f"{alike}"}


def _tax_choices(folder: CarFolder) -> list[tuple[str, str]]:
    """Rates of the car's table by what they are called, and none."""
    told = {
        f"{Decimal(row.text('percent')).normalize():f}": row.text("name")
        for row in folder.sheet("tax_rates")
    }
    return [*((percent, f"{percent} %, {name}") for percent, name in told.items()), ("0", "no tax")]
