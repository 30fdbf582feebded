"""Which panel or part a colour page is about, and the readings on it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from django.http import Http404, HttpRequest

from asfound.record.convert.film import panels_of
from asfound.record.folder import CarFolder, Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A panel or part, and the panels before and after it."""

    kind: str
    name: str
    before: str = ""
    after: str = ""

    @property
    def cells(self) -> dict[str, str]:
        """Its cell in a row of ``colour.csv``."""
        return {self.kind: self.name}


def subject_of(request: HttpRequest, folder: CarFolder) -> Subject | None:
    """Subject that the address names; ``None`` where it names none.

    Raises
    ------
    Http404
        If the car has no such panel or part.
    """
    panel, part = request.GET.get("panel", "").strip(), request.GET.get("part", "").strip()
    if panel:
        return _panel(panel, folder)
    if not part:
        return None
    known = parts_of(folder)
    if known and part not in known:
        raise Http404(part)
    return Subject(kind="part", name=part[:200])


def parts_of(folder: CarFolder) -> list[str]:
    """Names of the car's parts."""
    return [row.text("part") for row in folder.sheet("parts")]


def readings_by_panel(folder: CarFolder) -> list[tuple[str, int]]:
    """Panels with how many colour readings each has."""
    counted = Counter(row.text("panel") for row in folder.sheet("colour"))
    return [(panel.panel, counted[panel.panel]) for panel in panels_of(folder)]


def with_colour_places(folder: CarFolder) -> CarFolder:
    """The car with its colour readings where a figure looks for spots."""
    rows = tuple(
        (row.text("panel"), str(number), row.text("x_mm"), row.text("y_mm"))
        for number, row in enumerate(folder.sheet("colour"))
        if row.text("panel")
    )
    places = Sheet(columns=("panel", "spot", "x_mm", "y_mm"), rows=rows)
    return CarFolder(sheets={**folder.sheets, "film": places}, package=folder.package)


def _panel(name: str, folder: CarFolder) -> Subject:
    names = [panel.panel for panel in panels_of(folder)]
    if name not in names:
        raise Http404(name)
    i = names.index(name)
    return Subject(
        kind="panel",
        name=name,
        before=names[i - 1] if i else "",
        after=names[i + 1] if i + 1 < len(names) else "",
    )
