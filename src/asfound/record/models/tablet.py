"""A tablet that the people of the workshop share."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class Tablets(models.QuerySet["Tablet"]):
    """Tablets, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those at which a PIN is enough."""
        return self.filter(withdrawn_at=None)


class Tablet(models.Model):
    """A device of the workshop, known by the hash of a key that it alone holds."""

    name = models.TextField(help_text="Where it hangs or whose bench it lies on")
    key_sha256 = models.CharField(max_length=64, unique=True)
    added_at = models.DateTimeField(auto_now_add=True)
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Tablets.as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        """Name of the tablet."""
        return self.name
