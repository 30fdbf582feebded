"""A line of the log of writes."""

from __future__ import annotations

from typing import Any, NoReturn

from django.conf import settings
from django.db import models

_REFUSAL = "the log of writes is append-only"


class Entries(models.QuerySet["Entry"]):
    """Lines of the log, in their order; none can be changed or taken out."""

    def update(self, **values: Any) -> NoReturn:
        """Refuse."""
        raise TypeError(_REFUSAL)

    def delete(self) -> NoReturn:
        """Refuse."""
        raise TypeError(_REFUSAL)


class Entry(models.Model):
    """Who did what, when, to which car, with what was there before and after.

    ``hash`` covers the line and the hash of the line before it, so that a line that is changed
    or taken out shows. That hash is unique, so that the chain cannot fork.
    """

    at = models.DateTimeField()
    who = models.TextField(blank=True, help_text="Empty: the command line")
    action = models.CharField(max_length=40)
    car = models.ForeignKey(
        "record.Car", null=True, on_delete=models.PROTECT, related_name="entries"
    )
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)
    previous_hash = models.CharField(max_length=64, unique=True)
    hash = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = Entries.as_manager()

    class Meta:
        ordering = ("pk",)
        verbose_name_plural = "entries"

    def __str__(self) -> str:
        """Line in words."""
        return f"{self.at:%Y-%m-%d %H:%M} {self.action} by {self.who or 'the command line'}"

    def save(self, **options: Any) -> None:
        """Write a new line; refuse to change one."""
        if not self._state.adding:
            raise TypeError(_REFUSAL)
        super().save(**options)

    def delete(self, using: Any = None, keep_parents: bool = False) -> NoReturn:
        """Refuse."""
        raise TypeError(_REFUSAL)
