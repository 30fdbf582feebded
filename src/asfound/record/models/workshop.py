"""People, bays and closed days of the workshop; each change is a row, and the latest counts."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class Workshop(models.Model):
    """Who works when, in which bays, and on which days nobody does, once for all cars.

    Each of the three holds rows as a car's table of that name has them.
    """

    people = models.JSONField(default=list)
    bays = models.JSONField(default=list)
    closed_days = models.JSONField(default=list)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        """How many people and bays."""
        return f"{len(self.people)} people, {len(self.bays)} kinds of bay"
