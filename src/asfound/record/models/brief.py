"""The owner's limits."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models


class Brief(models.Model):
    """A brief as ``brief.json`` tells it; each change is a row, and the latest counts.

    ``content`` is ``None`` where a folder without a brief replaced one with a brief.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="briefs")
    content = models.JSONField(null=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        """Name of the brief."""
        return str(self._get("name") or "brief")

    @property
    def cost_max(self) -> float | None:
        """Most it may cost, in the car's currency; ``None`` for no limit."""
        limit = self._get("cost_max")
        return None if limit is None else float(limit)

    @property
    def hours_max(self) -> dict[str, float]:
        """Most hours by trade, of the trades that have a limit."""
        return _limits(self._get("hours_max"))

    @property
    def min_grade(self) -> dict[str, float]:
        """Lowest finish by zone, of the zones that have one."""
        return _limits(self._get("min_grade"))

    @property
    def note(self) -> str:
        """What else the owner said."""
        return str(self._get("note") or "")

    def _get(self, key: str) -> Any:
        return (self.content or {}).get(key)


def _limits(content: Any) -> dict[str, float]:
    return {name: float(limit) for name, limit in (content or {}).items() if limit is not None}
