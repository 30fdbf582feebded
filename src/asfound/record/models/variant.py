"""A choice that was kept under a name, to be held beside others."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class Variants(models.QuerySet["Variant"]):
    """Variants, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that count."""
        return self.filter(withdrawn_at=None)


class Variant(models.Model):
    """One option for every piece, with the brief it was chosen under; withdrawn, not deleted.

    ``sums`` holds what it came to when it was kept: ``kept``, ``cost``, ``hours`` by trade,
    ``lowest_grade`` and ``mean_grade``.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="variants")
    name = models.CharField(max_length=80)
    note = models.TextField(blank=True)
    brief = models.JSONField(null=True)
    options = models.JSONField()
    sums = models.JSONField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Variants.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("car", "name"),
                condition=models.Q(withdrawn_at=None),
                name="variant_name_is_unique_in_car",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="variant_has_a_name"),
        )

    def __str__(self) -> str:
        """Name of the variant."""
        return self.name
