"""How the workshop counts money; each change is a row, and the latest counts."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.conf import settings
from django.db import models


class MoneySettings(models.Model):
    """Currency, rates and address of the workshop, and what an hour costs it.

    ``tax_rates`` and ``charge_rates`` are rows as a car's tables have them: a car takes them over
    when its money is first counted. ``treatment_rates`` are rows too: a car takes over those that
    its options were made from. ``cost_rates`` and ``markup_percent`` never leave this row.
    """

    currency = models.CharField(max_length=3, default="EUR")
    with_tax = models.BooleanField(default=True)
    name = models.CharField(max_length=120, blank=True)
    address = models.TextField(blank=True)
    open_to_craft = models.BooleanField(default=False)
    tax_rates = models.JSONField(default=list)
    charge_rates = models.JSONField(default=list)
    treatment_rates = models.JSONField(default=list)
    cost_rates = models.JSONField(default=dict)
    markup_percent = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        verbose_name_plural = "money settings"
        constraints = (
            models.CheckConstraint(
                condition=models.Q(markup_percent__gte=0), name="markup_not_negative"
            ),
        )

    def __str__(self) -> str:
        """Name of the workshop and its currency."""
        return f"{self.name or 'the workshop'}, {self.currency}"

    @property
    def costs(self) -> dict[str, Decimal]:
        """What an hour costs the workshop, by trade or person."""
        told: dict[str, Any] = self.cost_rates
        return {name: Decimal(cost) for name, cost in told.items()}
