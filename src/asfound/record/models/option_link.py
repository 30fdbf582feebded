"""A tie between two options."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least
from asfound.record.tables.choice import LINK_KINDS


class OptionLink(CarRow):
    """One option requires, excludes, shares work with or waits for another; or a seam."""

    kind = models.TextField()
    subject = models.TextField()
    option = models.TextField()
    other_subject = models.TextField()
    other_option = models.TextField()
    saves_cost = models.FloatField(null=True)
    saves_hours = models.FloatField(null=True)
    trade = models.TextField(blank=True)
    why = models.TextField(blank=True)

    class Meta(CarRow.Meta):
        default_related_name = "option_links"
        constraints = (
            models.CheckConstraint(
                condition=models.Q(kind__in=LINK_KINDS),
                name="option_link_kind_is_known",
            ),
            at_least("saves_cost", 0, name="option_link_saves_cost_not_negative"),
            at_least("saves_hours", 0, name="option_link_saves_hours_not_negative"),
        )

    def __str__(self) -> str:
        """Tie in words."""
        there = f"{self.other_subject}: {self.other_option}"
        return f"{self.subject}: {self.option} {self.kind} {there}"
