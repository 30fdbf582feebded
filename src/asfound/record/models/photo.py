"""A photograph: what it shows and when, apart from its bytes, which lie on the shelf."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow
from asfound.record.models.observed import Observed, fate_has_a_reason


class Photo(Observed, CarRow):
    """A row of ``photos.csv``; ``sha256`` names the untouched bytes.

    Never overwritten: sorted anew, marked or paired it is a row of its own that supersedes it.
    """

    file = models.TextField()
    sha256 = models.CharField(max_length=64, blank=True)
    subject = models.TextField(blank=True)
    view = models.TextField(blank=True)
    stage = models.TextField(blank=True)
    taken_at = models.TextField(blank=True)
    by = models.TextField(blank=True)
    x_mm = models.FloatField(null=True)
    y_mm = models.FloatField(null=True)
    note = models.TextField(blank=True)
    marks = models.TextField(blank=True, help_text="Arrows and words over the photograph, as JSON")
    pair = models.TextField(blank=True, help_text="File of the photograph it is laid beside")

    class Meta(CarRow.Meta):
        default_related_name = "photos"
        indexes = (
            models.Index(fields=("car", "subject")),
            models.Index(fields=("sha256",)),
            models.Index(
                fields=("car", "position"),
                condition=models.Q(superseded_by=None, withdrawn_at=None),
                name="photo_counts_in_order",
            ),
        )
        constraints = (fate_has_a_reason("photo_fate_has_a_reason"),)

    def __str__(self) -> str:
        """What it shows."""
        return f"{self.subject}: {self.view} ({self.stage})"
