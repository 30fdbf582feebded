"""One way to treat one subject."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least, between


class Option(CarRow):
    """An option; ``hours`` holds hours by trade, ``None`` where the cell was empty."""

    subject = models.TextField()
    option = models.TextField()
    treatment = models.TextField(blank=True)
    kept = models.FloatField()
    grade = models.FloatField()
    cost = models.FloatField()
    safe = models.BooleanField(null=True)
    undoable = models.TextField(blank=True)
    hours = models.JSONField(default=dict)

    class Meta(CarRow.Meta):
        default_related_name = "options"
        constraints = (
            models.UniqueConstraint(
                fields=("car", "subject", "option"), name="option_is_unique_in_subject"
            ),
            between("kept", 0, 1, name="option_kept_0_to_1"),
            between("grade", 0, 5, name="option_grade_0_to_5"),
            at_least("cost", 0, name="option_cost_not_negative"),
        )

    def __str__(self) -> str:
        """Subject and option."""
        return f"{self.subject}: {self.option}"
