"""A panel of the body."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least


class Panel(CarRow):
    """A panel with its outline in the panel's own mm."""

    panel = models.TextField()
    section = models.TextField(blank=True)
    substrate = models.TextField(blank=True)
    outline_wkt = models.TextField(blank=True)
    view = models.TextField(blank=True)
    nominal_mm = models.FloatField(null=True)
    placement = models.TextField(blank=True)

    class Meta(CarRow.Meta):
        default_related_name = "panels"
        constraints = (
            models.UniqueConstraint(fields=("car", "panel"), name="panel_name_is_unique_in_car"),
            at_least("nominal_mm", 0, name="panel_nominal_not_negative"),
        )

    def __str__(self) -> str:
        """Name of the panel."""
        return self.panel
