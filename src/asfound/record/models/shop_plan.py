"""The plan of the whole shop: cars at work, plans that were adopted, addresses that show them."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class ShopCar(models.Model):
    """A car as the plan of the shop takes it; a car without a row is at work with priority 1."""

    car = models.OneToOneField("record.Car", on_delete=models.CASCADE, related_name="in_shop")
    priority = models.FloatField(default=1.0)
    promised = models.DateField(null=True, help_text="Day told to the owner")
    at_work = models.BooleanField(default=True)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(priority__gt=0), name="shop_car_priority_above_zero"
            ),
        )

    def __str__(self) -> str:
        """Car and priority."""
        return f"{self.car}, priority {self.priority:g}"


class ShopPlan(models.Model):
    """A plan that somebody adopted, whole as it was that moment; it never changes.

    ``content`` is a ``PlannedShop`` as JSON; ``inputs_sha256`` stands for all that it was made
    from.
    """

    content = models.JSONField()
    inputs_sha256 = models.CharField(max_length=64)
    because = models.TextField(blank=True, help_text="Why, in the words of whoever adopted it")
    follows = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="+")
    adopted_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        """When it was adopted."""
        return f"plan of {self.adopted_at:%Y-%m-%d %H:%M}"


class PlanAddresses(models.QuerySet["PlanAddress"]):
    """Addresses, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that answer."""
        return self.filter(withdrawn_at=None)


class PlanAddress(models.Model):
    """A secret address at which the adopted plan is shown; the record has its hash alone.

    ``about`` is the person whose calendar it is; a calendar without person and car is the shop's.
    """

    class Kind(models.TextChoices):
        """What answers there."""

        CALENDAR = "calendar", "Calendar"
        WALL = "wall", "Wall screen"

    kind = models.CharField(max_length=10, choices=Kind)
    about = models.TextField(blank=True)
    car = models.ForeignKey("record.Car", null=True, on_delete=models.CASCADE, related_name="+")
    key_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = PlanAddresses.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(kind__in=("calendar", "wall")), name="plan_address_kind_is_known"
            ),
        )

    def __str__(self) -> str:
        """What it shows."""
        of = self.about or (str(self.car) if self.car_id else "the whole shop")
        return f"{self.get_kind_display()} of {of}"
