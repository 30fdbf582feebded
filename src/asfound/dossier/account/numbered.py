"""Findings in the order of a report, with the numbers that drawings and lists share."""

from __future__ import annotations

from asfound.dossier.figures import Numbered, numbered
from asfound.record.convert.findings import by_subject, findings_of
from asfound.record.folder import CarFolder


def ordered(car: CarFolder, *, subject: str = "") -> list[Numbered]:
    """Findings in the order of a report: by part and panel as they came, numbered through.

    Parameters
    ----------
    car : CarFolder
    subject : str
        Only those on this part or panel; empty for the whole car.
    """
    groups = by_subject(findings_of(car, subject=subject))
    return numbered([finding for group in groups.values() for finding in group])
