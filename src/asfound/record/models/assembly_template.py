"""A common assembly as the workshop met it on an earlier car."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class AssemblyTemplate(models.Model):
    """Rows of an assembly and all below it, ready to be entered for another car.

    ``rows`` are cells by column; ``part`` and ``parent`` in them hold within the template. The
    first also holds, under ``strip``, rows by table of how the parts come off and go on again.
    """

    name = models.TextField(unique=True)
    rows = models.JSONField()
    made_from = models.TextField(blank=True, help_text="The car it was taken from")
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_reason = models.TextField(blank=True)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        """Name of the template."""
        return self.name

    @property
    def strip(self) -> dict[str, list[dict[str, str]]]:
        """Rows by table of how its parts come off and go on again."""
        found: dict[str, list[dict[str, str]]] = self.rows[0].get("strip", {}) if self.rows else {}
        return found

    @property
    def joints_n(self) -> int:
        """How many joints come along."""
        return len(self.strip.get("joints", ()))
