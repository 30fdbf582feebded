"""The forms of gaps: a place on an edge, a correction, a new edge."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS, ReasonMixin, RowForm, cell
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.grid import columns_of
from asfound.record.folder import CarFolder

_SIDE = re.compile(r"\b(left|right)\b", re.IGNORECASE)


class GapForm(RowForm):
    """One place on an edge: how far along, the gap, and the flush if it was read."""

    table = "gaps"
    along_mm = cell("along mm", NUMBER)
    gap_mm = cell("gap mm", NUMBER)
    flush_mm = cell("flush mm", NUMBER, required=False)
    instrument = cell("instrument", WORDS, required=False)


class GapCorrectionForm(ReasonMixin, GapForm):
    """What a reading should have been, and why."""


class EdgeForm(forms.Form):
    """Name of an edge that is to be read."""

    edge = forms.CharField(
        label="Name of the edge",
        max_length=120,
        help_text="Such as: left door, rear. The same words with left and right make twins.",
        widget=forms.TextInput(attrs=WORDS),
    )

    def __init__(self, *args: Any, folder: CarFolder, **options: Any) -> None:
        super().__init__(*args, **options)
        self.folder = folder
        self.rows: tuple[dict[str, str], ...] = ()

    def clean_edge(self) -> str:
        """Name; where it is new, the table of edges with it stands in ``rows``."""
        name = " ".join(str(self.cleaned_data["edge"]).split())
        there = [dict(row.cells) for row in self.folder.sheet("edges")]
        known = {row["edge"] for row in there}
        if name in known:
            return name
        twin = twin_name(name)
        new = {"edge": name, "twin": twin if twin in known else ""}
        columns = columns_of("edges", there)
        checked = check_rows([*there, new], columns, table="edges", folder=self.folder)
        if checked.faults:
            raise forms.ValidationError([f"{f.rule}. {f.remedy}" for f in checked.faults])
        self.rows = checked.rows
        return name


def twin_name(edge: str) -> str:
    """Name of the edge on the other side; empty where the name has no side.

    Examples
    --------
    >>> twin_name("left door, rear"), twin_name("bonnet, right, front"), twin_name("boot lid")
    ('right door, rear', 'bonnet, left, front', '')
    """
    sides = _SIDE.findall(edge)
    if len(sides) != 1:
        return ""
    return _SIDE.sub("right" if sides[0].lower() == "left" else "left", edge)
