"""What the head shows to the owner of a car."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class OwnersRoom(models.TextChoices):
    """A room of a car that can be released to its owner."""

    SURVEY = "survey", "Survey"
    DECISIONS = "decisions", "Decisions"
    PARTS = "parts", "Parts, findings and photographs"
    DOSSIER = "dossier", "Dossier"
    MONEY = "money", "Money"


class Releases(models.QuerySet["Release"]):
    """Releases, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that count."""
        return self.filter(withdrawn_at=None)


class Release(models.Model):
    """A room of a car that its owner may look into, since when and by whom."""

    car = models.ForeignKey("record.Car", on_delete=models.PROTECT, related_name="releases")
    room = models.CharField(max_length=20, choices=OwnersRoom)
    released_at = models.DateTimeField(auto_now_add=True)
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Releases.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("car", "room"),
                condition=models.Q(withdrawn_at=None),
                name="release_one_a_room_counts",
            ),
            models.CheckConstraint(
                condition=models.Q(room__in=OwnersRoom.values), name="release_room_is_known"
            ),
        )

    def __str__(self) -> str:
        """Car and room."""
        return f"{self.car}: {self.get_room_display()}"
