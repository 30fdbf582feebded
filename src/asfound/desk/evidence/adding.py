"""Writing down an item of evidence."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.forms import WORDS
from asfound.desk.tables.new_row import NewRow
from asfound.record.convert.stored import folder_of
from asfound.record.evidence import FINISH, FITTED
from asfound.record.folder import CarFolder

_PAIRS = (
    (FITTED.statement, FITTED.alternative),
    (FINISH.statement, FINISH.alternative),
    ("covered when built", "covered later"),
    ("made in period", "made later"),
    ("made anew to the old pattern", "made in period"),
)
_BETWEEN = " / "
_RATIO = (
    "How many times more probable this is if the first statement holds. Below 1 it speaks for the "
    "other: 0.1, or 1/10."
)
_BASES = (
    ("measured", "measured"),
    ("data", "data: counted, or from records"),
    ("experience", "experience: by eye, capped"),
    ("guess", "guess: by eye, capped"),
)


class EvidenceForm(NewRow):
    """An item that speaks for or against a statement."""

    table = "evidence"
    subject = forms.CharField(
        label="Part or panel",
        max_length=120,
        widget=forms.TextInput(attrs={**WORDS, "list": "subjects"}),
    )
    pair = forms.CharField(
        label="Statement / its alternative",
        max_length=200,
        help_text="Two statements that exclude each other, with / between them.",
        widget=forms.TextInput(attrs={**WORDS, "list": "pairs"}),
    )
    item = forms.CharField(
        label="What speaks for or against", max_length=300, widget=forms.TextInput(attrs=WORDS)
    )
    lr = forms.CharField(
        label="Ratio", max_length=20, help_text=_RATIO, widget=forms.TextInput(attrs=WORDS)
    )
    basis = forms.ChoiceField(label="What the ratio rests on", choices=_BASES)
    cause = forms.CharField(
        label="Cause",
        required=False,
        max_length=120,
        help_text="What else would move with it: one plate, one witness, one invoice. Items with "
        "one cause are not multiplied. Film and colour have the cause finish, numbers number, "
        "date marks dates.",
        widget=forms.TextInput(attrs={**WORDS, "list": "causes"}),
    )
    note = forms.CharField(
        label="Note", required=False, max_length=400, widget=forms.TextInput(attrs=WORDS)
    )

    def clean_lr(self) -> str:
        """Ratio as a decimal number; 1/20 is read as what it is."""
        text = str(self.cleaned_data["lr"]).replace(" ", "")
        over, bar, under = text.partition("/")
        if not bar:
            return text
        try:
            return f"{float(over.replace(',', '.')) / float(under.replace(',', '.')):.12g}"
        except (ValueError, ZeroDivisionError):
            return text

    def clean_pair(self) -> str:
        """Both statements."""
        pair = str(self.cleaned_data["pair"])
        if not all(part.strip() for part in pair.partition("/")):
            raise forms.ValidationError("Write both, such as: fitted when built / fitted later.")
        return pair

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new item."""
        statement, _, alternative = str(typed["pair"]).partition("/")
        names = ("subject", "item", "lr", "basis", "cause", "note")
        cells = {name: " ".join(str(typed[name]).split()) for name in names}
        return {
            **cells,
            "statement": " ".join(statement.split()),
            "alternative": " ".join(alternative.split()),
        }

    def field_of(self, column: str) -> str | None:
        """Field that fills a column of the table."""
        return {"statement": "pair", "alternative": "pair"}.get(column)


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down an item; the next on the same part may follow at once."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    first = {"subject": request.GET.get("subject", ""), "pair": request.GET.get("pair", "")}
    form = EvidenceForm(request.POST or None, folder=folder, initial=first)
    if request.method == "POST" and form.is_valid():
        form.rows = (*form.rows[:-1], {**form.rows[-1], "by": request.user.get_username()})
        if form.keep(car, by=request.user):
            about = form.rows[-1]["subject"]
            messages.success(request, f"Kept: {form.rows[-1]['item']}.")
            return redirect("evidence-of", slug=slug, subject=about)
    told = {
        "subjects": _named(folder, (("parts", "part"), ("panels", "panel"))),
        "pairs": _pairs(folder),
        "causes": _named(folder, (("evidence", "cause"),), "finish", "number", "dates", "wear"),
    }
    status = 422 if form.is_bound else 200
    return show(
        request, "evidence/add.html", status=status, car=car, room="evidence", form=form, **told
    )


def _named(folder: CarFolder, where: Iterable[tuple[str, str]], *first: str) -> list[str]:
    found = [row.text(column) for table, column in where for row in folder.sheet(table)]
    return list(dict.fromkeys(name for name in (*first, *found) if name))


def _pairs(folder: CarFolder) -> list[str]:
    own = [(row.text("statement"), row.text("alternative")) for row in folder.sheet("evidence")]
    return [_BETWEEN.join(pair) for pair in dict.fromkeys((*_PAIRS, *own))]
