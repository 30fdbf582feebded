"""One reading of a film gauge: an observation."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least
from asfound.record.models.observed import Observed, fate_has_a_reason


class FilmReading(Observed, CarRow):
    """A reading, never overwritten: a correction is a reading of its own that supersedes it."""

    panel = models.TextField()
    spot = models.TextField(blank=True)
    x_mm = models.FloatField()
    y_mm = models.FloatField()
    thickness_um = models.FloatField()
    gauge = models.TextField(blank=True)
    taken_at = models.TextField(blank=True)
    by = models.TextField(blank=True, help_text="As the folder or the page names the person")

    class Meta(CarRow.Meta):
        default_related_name = "film_readings"
        indexes = (models.Index(fields=("car", "panel", "spot")),)
        constraints = (
            at_least("thickness_um", 0, name="film_thickness_not_negative"),
            fate_has_a_reason("film_fate_has_a_reason"),
        )

    def __str__(self) -> str:
        """Reading in words."""
        return f"{self.panel}, {self.spot}: {self.thickness_um:g} µm"
