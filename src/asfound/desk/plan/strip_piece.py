"""How one piece comes off and goes on: what it takes, and what its rebuild asks for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.tables.cell import TableCell
from asfound.desk.tables.new_row import NewRow
from asfound.desk.undo import offer_undo
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car
from asfound.record.tables import TABLES, Form

_HOW = {
    "fragile": "how fragile, 0 (a casting) to 5 (falls apart when touched)",
    "people": "people it takes",
    "hours": "hours",
    "trade": "trade",
    "single_use": "fixings or seals are used once",
    "bench": "sub-assembly that it is made up in on the bench",
    "note": "note, such as a fluid to drain or a mark to make first",
    "off_on": "came off on",
    "on_again": "on again on",
}
_NOT_SAID = ("", "not said")


def _choice(label: str, words: tuple[str, ...]) -> forms.ChoiceField:
    choices = [_NOT_SAID, *((word, word) for word in words)]
    return forms.ChoiceField(label=label, required=False, choices=choices)


class HowForm(NewRow):
    """How a piece comes off: its row of ``removals``."""

    table = "removals"

    def __init__(self, *args: Any, part: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.part = part
        for name, label in _HOW.items():
            column = TABLES[self.table].column(name)
            self.fields[name] = (
                _choice(label, ("yes", "no"))
                if column.form is Form.YES_NO
                else TableCell(column, label=label, required=False)
            )

    def beside(self) -> list[dict[str, str]]:
        """Rows of the other pieces."""
        return [row for row in super().beside() if row["part"] != self.part]

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """The piece's row, with columns of this car alone as they are."""
        mine = (row for row in super().beside() if row["part"] == self.part)
        return {**next(mine, {}), **typed, "part": self.part}


class LinkForm(NewRow):
    """What the rebuild asks for: this piece after or before another."""

    table = "rebuild_links"
    side = forms.ChoiceField(label="it goes on", choices=[("after", "after"), ("before", "before")])
    other = forms.CharField(
        label="this piece",
        widget=forms.TextInput(attrs={"list": "pieces", "autocomplete": "off"}),
    )
    why = _choice("for", TABLES["rebuild_links"].column("why").words)
    note = forms.CharField(
        label="note",
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, part: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.part = part

    def clean_other(self) -> str:
        """Number of the other piece, by its number or name."""
        typed: str = self.cleaned_data["other"].strip()
        rows = list(self.folder.sheet("parts"))
        asked = typed.casefold()
        for column in ("part", "name"):
            found = [r.text("part") for r in rows if r.text(column).casefold() == asked]
            if len(found) == 1 and found[0] != self.part:
                return found[0]
        raise forms.ValidationError(f"“{typed}” is the number or name of no other single part.")

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """The new row."""
        pair = (typed["other"], self.part)
        before, after = pair if typed["side"] == "after" else pair[::-1]
        return {"before": before, "after": after, "why": typed["why"], "note": typed["note"]}

    def field_of(self, column: str) -> str | None:
        """Both columns of parts are filled from one field."""
        return "other" if column in ("before", "after") else None


@login_required
@require_http_methods(["GET", "POST"])
def piece(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Page of how one piece comes off and goes on, with its forms."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    names = {r.text("part"): r.text("name") or r.text("part") for r in folder.sheet("parts")}
    if part not in names:
        raise Http404(part)
    step = request.POST.get("step", "")
    mine = next((r for r in folder.sheet("removals") if r.text("part") == part), None)
    how = HowForm(
        request.POST if step == "how" else None,
        folder=folder,
        part=part,
        initial=dict(mine.cells) if mine else {},
    )
    link = LinkForm(request.POST if step == "link" else None, folder=folder, part=part)
    kept = _kept(request, car, part, step, how if step == "how" else link)
    if kept:
        return redirect(reverse("strip-piece", args=(slug, part)))
    return show(
        request,
        "plan/strip_piece.html",
        status=422 if step else 200,
        car=car,
        room="plan",
        part=part,
        name=names[part],
        way=f"{reverse('strip', args=(slug,))}?{urlencode({'to': part})}",
        how=how,
        link=link,
        **_tied(car, part, names),
        names=names.items(),
        benches=sorted({r.text("bench") for r in folder.sheet("removals")} - {""}),
    )


def _tied(car: Car, part: str, names: Mapping[str, str]) -> dict[str, Any]:
    """Joints that hold the part, and rows of the rebuild that name it, each with its names."""
    return {
        "joints": [
            (number, names.get(row["comes_off_after"], row["comes_off_after"]), row)
            for number, row in enumerate(sheet_rows(car, "joints"), start=1)
            if row["part"] == part
        ],
        "links": [
            (names.get(row["before"], row["before"]), names.get(row["after"], row["after"]), row)
            for row in sheet_rows(car, "rebuild_links")
            if part in (row["before"], row["after"])
        ],
    }


def _kept(request: HttpRequest, car: Car, part: str, step: str, form: NewRow) -> bool:
    """Whether something was written, which is then said."""
    said = request.POST.get
    if step == "drop" and part in (said("before"), said("after")):
        return _dropped(
            request, car, "rebuild_links", {n: said(n, "") for n in ("before", "after")}
        )
    if step == "loosen":
        joint = {"part": part, "comes_off_after": said("after", ""), "way": said("way", "")}
        return _dropped(request, car, "joints", joint)
    if step in ("how", "link") and form.is_valid() and form.keep(car, by=request.user):
        messages.success(request, "Kept.")
        return True
    return False


def _dropped(request: HttpRequest, car: Car, table: str, cells: dict[str, str]) -> bool:
    """Whether rows with these cells were there and are taken out."""
    rows = sheet_rows(car, table)
    kept = [row for row in rows if any(row.get(name, "") != cell for name, cell in cells.items())]
    if len(kept) == len(rows):
        return False
    entry = set_sheet(car=car, table=table, rows=kept, by=request.user, seen=rows)
    told = "That is asked for no longer; the log keeps it."
    offer_undo(request, told, car=car, kind="sheet", pk=entry.pk)
    return True
