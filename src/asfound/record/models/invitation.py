"""An invitation to sign in."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models
from django.utils import timezone

from asfound.record.models.person import Role


class Invitations(models.QuerySet["Invitation"]):
    """Invitations, among them those that were used, withdrawn or left to lapse."""

    def open(self) -> Self:
        """Those that can still be accepted."""
        return self.filter(accepted_at=None, withdrawn_at=None, expires_at__gt=timezone.now())


class Invitation(models.Model):
    """A link that lets one person make an account, once: with a role, and cars for an owner."""

    role = models.CharField(max_length=20, choices=Role)
    whom = models.TextField(help_text="For whom it is, in the head's words")
    cars = models.ManyToManyField("record.Car", blank=True, related_name="+")
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    expires_at = models.DateTimeField()
    accepted_at = models.DateTimeField(null=True)
    accepted_by = models.OneToOneField(
        "record.Person", null=True, on_delete=models.PROTECT, related_name="invitation"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Invitations.as_manager()

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values), name="invitation_role_is_known"
            ),
        )

    def __str__(self) -> str:
        """Whom and as what."""
        return f"{self.whom}, {self.get_role_display()}"
