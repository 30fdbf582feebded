"""A dossier that was made."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class Dossier(models.Model):
    """Bytes of a dossier by their hash, and the hash of the car it was made from."""

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="dossiers")
    sha256 = models.CharField(max_length=64)
    size = models.BigIntegerField()
    inputs_sha256 = models.CharField(max_length=64)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        """Car and day."""
        return f"{self.car}, {self.made_at:%Y-%m-%d}"
