"""What a device sent, so that what is sent again is not written again."""

from __future__ import annotations

from django.db import models


class Arrival(models.Model):
    """The sender's key of one thing that was written; unique on a car."""

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="arrivals")
    key = models.CharField(max_length=64)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("car", "key"), name="arrival_once"),)

    def __str__(self) -> str:
        """Key and time in words."""
        return f"{self.key} at {self.at:%Y-%m-%d %H:%M}"
