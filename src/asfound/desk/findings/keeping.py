"""Keeping a finding with its photograph, both or none, and once only."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.desk.findings.forms import FindingForm
from asfound.desk.findings.subjects import About
from asfound.exchange.photographs import ReadIn, keep_read, read_in
from asfound.record.actions import add_observations, reopen_decision
from asfound.record.faults import Fault
from asfound.record.models import Car, Observation, Photo

DAMAGE = {"view": "damage", "stage": "before"}
"""How a photograph taken for a finding is sorted."""


class NotTakenError(Exception):
    """A photograph that was not taken, in words."""


def keep_finding(
    *, car: Car, about: About, form: FindingForm, photo: Photo | None, by: Any
) -> Observation | None:
    """Finding of a valid form; ``None`` where the same was sent before.

    Raises
    ------
    NotTakenError
        If the photograph that came with it is none.
    InputError
        If it is to reopen a decision, and nothing is signed.
    """
    got = read_photo(form.cleaned_data["photo"])
    with transaction.atomic():
        cells = {
            "subject": about.subject,
            **form.observed_cells(),
            **opinion_of(form.opinion_cells(), by),
        }
        file = _file(car, about, got, photo, by)
        if not file:
            cells.pop("photo_marks")
        row = {name: text for name, text in {**cells, "photo": file}.items() if text}
        key = form.cleaned_data["key"]
        made = add_observations(car=car, table="findings", rows=[row], by=by, key=key)
        if made and form.cleaned_data["reopens"]:
            reopen_decision(finding=made[0], by=by)
    return made[0] if made else None


def opinion_of(said: dict[str, str], by: Any) -> dict[str, str]:
    """Opinion with its author and day; nothing where nothing was said."""
    if not any(said.values()):
        return {}
    today = timezone.localdate().isoformat()
    return {**said, "opinion_by": by.get_username(), "opinion_on": today}


def read_photo(sent: Any) -> ReadIn | None:
    """Photograph on the shelf; ``None`` where none was sent.

    Raises
    ------
    NotTakenError
        If it is none.
    """
    if sent is None:
        return None
    got = read_in(sent.name, sent.file)
    if isinstance(got, Fault):
        raise NotTakenError(f"{got.file}: {got.rule}. {got.remedy} Nothing was written.")
    return got


def _file(car: Car, about: About, got: ReadIn | None, photo: Photo | None, by: Any) -> str:
    if got is not None:
        return keep_read(got, car=car, subject=about.subject, by=by, **DAMAGE).file
    return photo.file if photo is not None else ""
