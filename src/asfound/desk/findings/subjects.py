"""On what a finding can be: a panel of the sheet or a part of the register."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404

from asfound.record.models import Car, Panel, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a finding is on, as the record knows it; one name may be a part and a panel."""

    subject: str
    part: Part | None
    panel: Panel | None

    @property
    def words(self) -> str:
        """What it is called."""
        return str(self.part.name or self.part.part) if self.part else self.subject

    @property
    def is_drawn(self) -> bool:
        """Whether there is an outline to point at."""
        return self.panel is not None and bool(self.panel.outline_wkt)


def find_about(car: Car, subject: str) -> About | None:
    """Part or panel of that name; ``None`` if the car has neither."""
    part = car.parts.filter(part=subject).first() if subject else None
    panel = car.panels.filter(panel=subject).first() if subject else None
    if part is None and panel is None:
        return None
    return About(subject=subject, part=part, panel=panel)


def about_or_404(car: Car, subject: str) -> About:
    """Part or panel of that name; a finding whose name nothing bears any more has a page too."""
    found = find_about(car, subject)
    if found is not None:
        return found
    if car.observations.filter(table="findings", subject=subject).exists():
        return About(subject=subject, part=None, panel=None)
    raise Http404(subject)
