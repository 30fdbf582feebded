"""What every observation has: who entered it and when, and what became of it."""

from __future__ import annotations

from typing import Any, Self

from django.conf import settings
from django.db import models

_FATE = frozenset({"superseded_by", "withdrawn_at", "withdrawn_by", "reason"})
"""All that may be written to an observation once it is there."""


class ObservedRows(models.QuerySet[Any]):
    """Observations, among them those that no longer count."""

    def current(self) -> Self:
        """Those that count: neither corrected nor withdrawn."""
        return self.filter(superseded_by=None, withdrawn_at=None)

    def update(self, **values: Any) -> int:
        """Write a fate to observations; what was observed stays as it was observed."""
        _only_fate(values)
        return super().update(**values)

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse: an observation is withdrawn, not deleted."""
        raise TypeError("an observation is withdrawn, not deleted")


class Observed(models.Model):
    """An observation, never overwritten: a correction is one of its own that supersedes it."""

    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    entered_at = models.DateTimeField(auto_now_add=True)
    superseded_by = models.OneToOneField(
        "self", null=True, on_delete=models.PROTECT, related_name="supersedes"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    reason = models.TextField(blank=True, help_text="Why it was corrected or withdrawn")

    objects = ObservedRows.as_manager()

    class Meta:
        abstract = True

    def save(self, **options: Any) -> None:
        """Write a new observation, or the fate of one that is there."""
        if not self._state.adding:
            _only_fate(options.get("update_fields") or ("everything",))
        super().save(**options)

    def delete(self, using: Any = None, keep_parents: bool = False) -> tuple[int, dict[str, int]]:
        """Refuse: an observation is withdrawn, not deleted."""
        raise TypeError("an observation is withdrawn, not deleted")

    @property
    def counts(self) -> bool:
        """Whether it was neither corrected nor withdrawn."""
        return self.superseded_by_id is None and self.withdrawn_at is None  # type: ignore[attr-defined]  # of the subclass


def fate_has_a_reason(name: str) -> models.CheckConstraint:
    """Rule of the database: what counts no longer says why."""
    return models.CheckConstraint(
        condition=models.Q(superseded_by=None, withdrawn_at=None) | ~models.Q(reason=""),
        name=name,
    )


def _only_fate(fields: Any) -> None:
    odd = sorted(set(fields) - _FATE)
    if odd:
        raise TypeError(f"an observation is never overwritten: {', '.join(odd)}")
