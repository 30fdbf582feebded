"""A gauge's reading of a certified shim."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least


class ShimReading(CarRow):
    """What a gauge read on a shim of known thickness, or on bare metal (0)."""

    gauge = models.TextField(blank=True)
    nominal_um = models.FloatField()
    read_um = models.FloatField()
    taken_at = models.TextField(blank=True)

    class Meta(CarRow.Meta):
        default_related_name = "shim_readings"
        constraints = (at_least("nominal_um", 0, name="shim_nominal_not_negative"),)

    def __str__(self) -> str:
        """Reading in words."""
        return f"{self.gauge}: {self.nominal_um:g} µm read as {self.read_um:g} µm"
