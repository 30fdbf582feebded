"""A common assembly as the workshop met it on an earlier car."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class AssemblyTemplate(models.Model):
    """Rows of an assembly and all below it, ready to be entered for another car.

    ``rows`` are cells by column; ``part`` and ``parent`` in them hold within the template.
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
