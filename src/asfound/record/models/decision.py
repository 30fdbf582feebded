"""What a person decided."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models
from django.utils import timezone


class Decisions(models.QuerySet["Decision"]):
    """Decisions, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that count."""
        return self.filter(withdrawn_at=None)


class Decision(models.Model):
    """A person's lock of one option of a subject, with the reason; withdrawn, not deleted.

    ``told`` holds its row of ``locks.csv`` where it came with a folder: who locked it then may
    have no account here.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="decisions")
    subject = models.TextField()
    option = models.TextField()
    reason = models.TextField()
    told = models.JSONField(default=dict)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    decided_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Decisions.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("car", "subject"),
                condition=models.Q(withdrawn_at=None),
                name="decision_one_a_subject_counts",
            ),
            models.CheckConstraint(condition=~models.Q(reason=""), name="decision_has_a_reason"),
        )

    def __str__(self) -> str:
        """Decision in words."""
        return f"{self.subject}: {self.option}"

    @property
    def who(self) -> str:
        """Name of the person who locked it; empty where the folder does not say."""
        return self.told.get("by", "") or (self.by.get_username() if self.by else "")

    @property
    def day(self) -> str:
        """Day of the lock, as EDTF."""
        told: str = self.told.get("locked_on", "")
        return told or timezone.localdate(self.decided_at).isoformat()
