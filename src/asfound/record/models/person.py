"""A person of the workshop, or an owner."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class Role(models.TextChoices):
    """What a person may do."""

    HEAD = "head", "Head of the workshop"
    CRAFTSPERSON = "craftsperson", "Craftsperson"
    OWNER = "owner", "Owner"


class Units(models.TextChoices):
    """In which units a person reads the pages."""

    METRIC = "metric", "Metric"
    IMPERIAL = "imperial", "Imperial"


class People(models.QuerySet["Person"]):
    """People, among them those whose access was withdrawn."""

    def current(self) -> Self:
        """Those who may sign in."""
        return self.filter(withdrawn_at=None)


class Person(models.Model):
    """A person who may sign in, with a role; access is withdrawn, a person never deleted.

    ``pin_hash`` is made as a password's is; without one no PIN lets the person in.
    """

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="person"
    )
    role = models.CharField(max_length=20, choices=Role)
    units = models.CharField(max_length=10, choices=Units, default=Units.METRIC)
    pin_hash = models.CharField(max_length=128, blank=True)
    pin_wrong_n = models.PositiveSmallIntegerField(default=0)
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = People.as_manager()

    class Meta:
        verbose_name_plural = "people"
        constraints = (
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values), name="person_role_is_known"
            ),
        )

    def __str__(self) -> str:
        """Name to sign in with."""
        return self.user.get_username()

    @property
    def is_owner(self) -> bool:
        """Whether the person may only read, and only their own cars."""
        return self.role == Role.OWNER

    @property
    def is_head(self) -> bool:
        """Whether the person keeps what all cars share."""
        return self.role == Role.HEAD
