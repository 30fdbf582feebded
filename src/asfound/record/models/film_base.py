"""One car's level of film in the workshop's own base, given with its owner's consent."""

from __future__ import annotations

from django.db import models

from asfound.record.models.observed import Observed, fate_has_a_reason


class FilmBuild(Observed):
    """What a car gave to the base, with who agreed to it and when; withdrawn, not deleted."""

    car = models.ForeignKey("record.Car", on_delete=models.PROTECT, related_name="film_builds")
    kind = models.TextField(help_text="Kind of car or finish by which the workshop groups")
    year = models.FloatField()
    level_um = models.FloatField()
    u_log = models.FloatField(help_text="Standard uncertainty of the level's natural logarithm")
    consent_by = models.TextField(help_text="The owner who agreed, by name")
    consent_on = models.DateField()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("car",),
                condition=models.Q(superseded_by=None, withdrawn_at=None),
                name="film_build_one_a_car_counts",
            ),
            models.CheckConstraint(
                condition=models.Q(level_um__gt=0, u_log__gt=0), name="film_build_above_zero"
            ),
            models.CheckConstraint(
                condition=~models.Q(consent_by=""), name="film_build_has_consent"
            ),
            fate_has_a_reason("film_build_fate_has_a_reason"),
        )

    def __str__(self) -> str:
        """Level in words."""
        return f"{self.car}: {self.level_um:.0f} µm"
