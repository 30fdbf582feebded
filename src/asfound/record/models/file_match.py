"""How the columns of one instrument's files were matched, so that it is not asked again."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from django.conf import settings
from django.db import models


class FileMatch(models.Model):
    """A matching that a person made, found again by the head of the file.

    It is of the workshop, not of a car: the same gauge writes the same file wherever it was.
    """

    name = models.CharField(max_length=100, help_text="The instrument or kind of file")
    table = models.CharField(max_length=40)
    fingerprint = models.CharField(max_length=64, help_text="Hash of the head")
    head = models.JSONField()
    places = models.JSONField(help_text="Place in the head of each matched column")
    fixed = models.JSONField(default=dict, help_text="What held for every row")
    decimal = models.CharField(max_length=1, blank=True)
    at = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ("-at", "-pk")
        constraints = (
            models.UniqueConstraint(
                fields=("table", "fingerprint", "name"), name="file_match_once_a_name"
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="file_match_has_a_name"),
        )

    def __str__(self) -> str:
        """Name of the instrument."""
        return self.name


def fingerprint_of(head: Sequence[str]) -> str:
    """Hash of a head: the same for the same columns in the same order, whatever their case."""
    return hashlib.sha256("\x1f".join(cell.strip().lower() for cell in head).encode()).hexdigest()
