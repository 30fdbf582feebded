"""What a person decided."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class Decisions(models.QuerySet["Decision"]):
    """Decisions, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that count."""
        return self.filter(withdrawn_at=None)


class Decision(models.Model):
    """A person's lock of one option of a subject, with the reason; withdrawn, not deleted."""

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="decisions")
    subject = models.TextField()
    option = models.TextField()
    reason = models.TextField()
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
