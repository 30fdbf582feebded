"""The small sheet beside the decisions: a panel leads to its row, or to the page of its piece."""

from __future__ import annotations

from collections.abc import Iterable

from django.urls import reverse
from django.utils.text import slugify

from asfound.dossier.figures.layout import unfold
from asfound.dossier.figures.small_sheet import small_sheet_svg
from asfound.record.folder import CarFolder


def sheet_of_rows(folder: CarFolder, subjects: Iterable[str]) -> str:
    """Sheet whose panels lead to their rows on the same page; empty for a car without them."""
    panels = panels_of_pieces(folder)
    links = {panels.get(name, name): f"#row-{slugify(name)}" for name in subjects}
    return small_sheet_svg(unfold(folder), links)


def sheet_of_piece(folder: CarFolder, slug: str, subject: str, subjects: Iterable[str]) -> str:
    """Sheet whose panels lead to their pieces, this one marked; empty for a piece off the sheet."""
    placed, panels = unfold(folder), panels_of_pieces(folder)
    marked = panels.get(subject, subject)
    if all(one.panel.panel != marked for one in placed):
        return ""
    links = {panels.get(name, name): reverse("piece", args=(slug, name)) for name in subjects}
    return small_sheet_svg(placed, links, marked=marked)


def panels_of_pieces(folder: CarFolder) -> dict[str, str]:
    """Panel of each piece that is called otherwise than its panel."""
    rows = folder.sheet("subjects")
    return {row.text("subject"): row.text("panel") for row in rows if row.text("panel")}
