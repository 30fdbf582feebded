"""One reading of a film gauge: an observation."""

from __future__ import annotations

from typing import Any, Self

from django.conf import settings
from django.db import models

from asfound.record.models.car_row import CarRow, at_least

_FATE = frozenset({"superseded_by", "withdrawn_at", "withdrawn_by", "reason"})
"""All that may be written to a reading once it is there."""


class FilmReadings(models.QuerySet["FilmReading"]):
    """Readings, among them those that no longer count."""

    def current(self) -> Self:
        """Those that count: neither corrected nor withdrawn."""
        return self.filter(superseded_by=None, withdrawn_at=None)

    def update(self, **values: Any) -> int:
        """Write a fate to readings; what was measured stays as it was measured."""
        _only_fate(values)
        return super().update(**values)

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse: an observation is withdrawn, not deleted."""
        raise TypeError("an observation is withdrawn, not deleted")


class FilmReading(CarRow):
    """A reading, never overwritten: a correction is a reading of its own that supersedes it."""

    panel = models.TextField()
    spot = models.TextField(blank=True)
    x_mm = models.FloatField()
    y_mm = models.FloatField()
    thickness_um = models.FloatField()
    gauge = models.TextField(blank=True)
    taken_at = models.TextField(blank=True)
    by = models.TextField(blank=True, help_text="As the folder or the page names the person")
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

    objects = FilmReadings.as_manager()

    class Meta(CarRow.Meta):
        default_related_name = "film_readings"
        indexes = (models.Index(fields=("car", "panel", "spot")),)
        constraints = (
            at_least("thickness_um", 0, name="film_thickness_not_negative"),
            models.CheckConstraint(
                condition=models.Q(superseded_by=None, withdrawn_at=None) | ~models.Q(reason=""),
                name="film_fate_has_a_reason",
            ),
        )

    def __str__(self) -> str:
        """Reading in words."""
        return f"{self.panel}, {self.spot}: {self.thickness_um:g} µm"

    def save(self, **options: Any) -> None:
        """Write a new reading, or the fate of one that is there."""
        if not self._state.adding:
            _only_fate(options.get("update_fields") or ("everything",))
        super().save(**options)

    def delete(self, using: Any = None, keep_parents: bool = False) -> tuple[int, dict[str, int]]:
        """Refuse: an observation is withdrawn, not deleted."""
        raise TypeError("an observation is withdrawn, not deleted")


def _only_fate(fields: Any) -> None:
    odd = sorted(set(fields) - _FATE)
    if odd:
        raise TypeError(f"an observation is never overwritten: {', '.join(odd)}")
