"""The condition report: what was found on a part, a panel or the whole car, as a PDF of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from shapely import Polygon

from asfound import __version__
from asfound.base import InputError
from asfound.dossier.account import about_car, about_findings
from asfound.dossier.account.findings import (
    MOST_UNSEEN,
    ORDER,
    earlier_treatment,
    subject_facts,
    unseen,
)
from asfound.dossier.account.numbered import ordered
from asfound.dossier.account.photos import Picture, found_layer, photo_words
from asfound.dossier.computed import Progress
from asfound.dossier.figures import Numbered, findings_sheet_svg, findings_svg
from asfound.dossier.files import Attached
from asfound.dossier.numbers import plain
from asfound.dossier.setting import set_pdf
from asfound.record.as_files import csv_bytes
from asfound.record.convert.film import panel_of, panels_of
from asfound.record.folder import CarFolder, Sheet

MOST_PICTURES = 40
_MAIN = "condition.typ"
_SHARE_FIGURES, _SHARE_PICTURES, _SHARE_ACCOUNT = 0.2, 0.6, 0.7
"""Of the work that is done when these are at hand; the rest is setting the pages."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What of a car a condition report tells besides its findings.

    An owner may look into some rooms only; what is not theirs to see is left out.
    """

    history: bool = True
    decisions: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pictured:
    """A photograph that findings name, in words, and the layer with their marks or nothing."""

    words: str
    jpeg: bytes
    over: Sequence[Numbered]
    layer: str


def make_condition_report(
    folder: CarFolder,
    *,
    made_on: date,
    subject: str = "",
    picture: Picture | None = None,
    shown: Shown | None = None,
    progress: Progress | None = None,
) -> bytes:
    """PDF/A-3b on the condition of a part, a panel or the whole car, its findings attached.

    Parameters
    ----------
    folder : CarFolder
    made_on : date
        Date that the report bears.
    subject : str
        Part or panel; empty for the whole car.
    picture : callable, optional
        Gives a small JPEG of a photograph by its path in the folder and its hash; without it no
        photograph is shown.
    shown : Shown, optional
        What it tells besides; everything if not given.
    progress : callable, optional
        Called with the share done, 0–1; what it raises ends the work with nothing made.

    Returns
    -------
    bytes
        The same car and date give the same bytes.

    Notes
    -----
    The order of the sections follows EN 16095, from memory: identification, purpose, description,
    earlier treatment, condition as observed, assessment, recommendations, images.
    """
    tell = progress or (lambda _: None)
    tell(0.0)
    there = ordered(folder, subject=subject)
    figures = dict(_figures(folder, there, subject))
    tell(_SHARE_FIGURES)
    pictures = _pictures(folder, there, picture, tell)
    figures |= {f"photo-{n}-found.svg": one.layer for n, one in enumerate(pictures) if one.layer}
    data = about_condition(folder, made_on=made_on, subject=subject, shown=shown)
    data["pictures"] = [_caption(one) for one in pictures]
    data["panels"] = [subject] if "panel-0.svg" in figures else []
    if data["findings"] is not None:
        data["findings"]["sheet"] = "findings.svg" in figures
    attached = _attached(folder, subject)
    data["attach"] = [f.told for f in attached]
    tell(_SHARE_ACCOUNT)
    pdf = set_pdf(
        data,
        figures=figures,
        pictures={f"photo-{n}.jpg": one.jpeg for n, one in enumerate(pictures)},
        attached=attached,
        made_on=made_on,
        main=_MAIN,
    )
    tell(1.0)
    return pdf


def about_condition(
    folder: CarFolder, *, made_on: date, subject: str = "", shown: Shown | None = None
) -> dict[str, Any]:
    """Sections of a condition report as plain data, for setting and for the page."""
    told = shown or Shown()
    facts = subject_facts(folder, subject) if subject else []
    blank = unseen(folder) if not subject else []
    name = next((text for label, text in facts if label in ("Part", "Panel")), subject)
    return {
        "kind": "Condition report",
        "version": __version__,
        "made_on": made_on.isoformat(),
        "subject": subject,
        "title": f"{name}, {folder.name}" if subject else folder.name,
        "car": about_car(folder),
        "facts": [fact for fact in facts if fact[0] in _IDENTIFY],
        "description": _description(folder, subject, facts),
        "earlier": earlier_treatment(folder, subject) if told.history else [],
        "findings": about_findings(folder, subject=subject),
        "unseen": blank[:MOST_UNSEEN],
        "unseen_more": max(len(blank) - MOST_UNSEEN, 0),
        "decided": list(_decided(folder, subject)) if told.decisions else [],
        "order": ORDER,
    }


_IDENTIFY = ("Part", "Panel", "Number", "Tag", "Belongs to")


def _description(folder: CarFolder, subject: str, facts: list[list[str]]) -> list[list[str]]:
    if not subject:
        panels, parts = len(folder.sheet("panels")), len(folder.sheet("parts"))
        return [["In the record", f"{plain(panels)} panels and {plain(parts)} parts"]]
    rest = [fact for fact in facts if fact[0] not in _IDENTIFY]
    outline = _outline(folder, subject)
    if outline is not None:
        left, top, right, bottom = outline.bounds
        size = f"{plain(right - left)} × {plain(bottom - top)} mm, unfolded"
        rest.append(["Width and height", size])
    return rest


def _decided(folder: CarFolder, subject: str) -> Iterator[list[str]]:
    """Treatments that people have settled on for what was found, or for the one subject."""
    found = {one.finding.subject for one in ordered(folder, subject=subject)} | {subject}
    for row in folder.sheet("subjects"):
        name, option = row.text("subject"), row.text("locked_option")
        if name in found and option:
            yield [name, _treatment(folder, name, option)]


def _treatment(folder: CarFolder, subject: str, option: str) -> str:
    for row in folder.sheet("options"):
        if (row.text("subject"), row.text("option")) == (subject, option):
            treatment = row.text("treatment")
            return option if option == treatment else f"{option} ({treatment})"
    return option


def _figures(
    folder: CarFolder, there: Sequence[Numbered], subject: str
) -> Iterator[tuple[str, str]]:
    if subject:
        placed = (one for one in there if one.finding.place_mm or one.finding.outline is not None)
        if any(placed) and _outline(folder, subject) is not None:
            yield "panel-0.svg", findings_svg(folder, subject, there, theme="print")
        return
    if sheet := sheet_of_findings(folder, there):
        yield "findings.svg", sheet


def sheet_of_findings(folder: CarFolder, there: Sequence[Numbered]) -> str:
    """The car unfolded with its findings; empty where none has a place on a drawn panel."""
    drawn = {panel.panel for panel in panels_of(folder)} if len(folder.sheet("panels")) else set()
    placed = (one for one in there if one.finding.place_mm or one.finding.outline is not None)
    if not any(one.finding.subject in drawn for one in placed):
        return ""
    return findings_sheet_svg(folder, there, theme="print")


def _outline(folder: CarFolder, subject: str) -> Polygon | None:
    if all(row.text("panel") != subject for row in folder.sheet("panels")):
        return None
    try:
        return panel_of(folder, subject).outline
    except InputError:
        return None


def _pictures(
    folder: CarFolder, there: Sequence[Numbered], picture: Picture | None, tell: Progress
) -> list[_Pictured]:
    """Photographs that the findings name, as far as they are at hand, each with its marks."""
    photos = {row.text("file"): row for row in folder.sheet("photos")}
    names = {row.text("part"): row.text("name") for row in folder.sheet("parts")}
    found: list[_Pictured] = []
    files = list(dict.fromkeys(file for one in there for file in one.finding.photos))
    for n, file in enumerate(files):
        tell(_SHARE_FIGURES + (_SHARE_PICTURES - _SHARE_FIGURES) * n / len(files))
        known = picture is not None and file in photos and len(found) < MOST_PICTURES
        jpeg = picture(file, photos[file].text("sha256")) if picture is not None and known else None
        if jpeg is not None:
            over = [one for one in there if file in one.finding.photos]
            layer = found_layer(file, jpeg, over)
            words = photo_words(photos[file], names)
            found.append(_Pictured(words=words, jpeg=jpeg, over=over, layer=layer))
    tell(_SHARE_PICTURES)
    return found


def _caption(one: _Pictured) -> dict[str, Any]:
    numbers = ", ".join(str(n.number) for n in one.over)
    kinds = "; ".join(dict.fromkeys(n.finding.kind for n in one.over))
    return {
        "layer": False,
        "found": bool(one.layer),
        "says": f"{'Finding' if len(one.over) == 1 else 'Findings'} {numbers}: {kinds}",
        "under": one.words,
    }


def _attached(folder: CarFolder, subject: str) -> tuple[Attached, ...]:
    """The findings of the report as a table, to be read without it."""
    sheet = folder.sheet("findings")
    rows = tuple(
        cells
        for cells, row in zip(sheet.rows, sheet, strict=True)
        if subject in ("", row.text("subject"))
    )
    if not rows:
        return ()
    data = csv_bytes(Sheet(columns=sheet.columns, rows=rows))
    return (Attached(name="findings.csv", data=data, what="the findings of this report"),)
