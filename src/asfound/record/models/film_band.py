"""A band of film thickness that somebody has published: a row of the workshop's own table."""

from __future__ import annotations

from django.db import models

from asfound.record.models.observed import Observed, fate_has_a_reason


class About(models.TextChoices):
    """What a source speaks of."""

    FACTORY = "factory", "factory finish"
    REPAINTED = "repainted", "repainted"
    FILLER = "filler", "filler"


class Status(models.TextChoices):
    """How far a source was followed up."""

    LOOKED_UP = "looked up", "looked up"
    LOW = "looked up, low authority", "looked up, low authority"
    TRADE = "common practice, no source", "common practice, no source"
    OURS = "measured in this workshop", "measured in this workshop"


class FilmBand(Observed):
    """A row of the table: never overwritten, corrected by a row that supersedes it.

    A row that nobody entered came with the program. ``high_um`` is empty for "more than"; empty
    years are open; an empty ``marque`` is any.
    """

    about = models.CharField(max_length=20, choices=About)
    marque = models.TextField(blank=True)
    era = models.TextField()
    first_year = models.SmallIntegerField(null=True)
    last_year = models.SmallIntegerField(null=True)
    low_um = models.FloatField()
    high_um = models.FloatField(null=True)
    source = models.TextField()
    note = models.TextField(blank=True, help_text="What the source adds")
    status = models.CharField(max_length=40, choices=Status)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(low_um__gte=0)
                & (models.Q(high_um=None) | models.Q(high_um__gt=models.F("low_um"))),
                name="film_band_rises_from_zero_or_more",
            ),
            models.CheckConstraint(condition=~models.Q(source=""), name="film_band_has_a_source"),
            fate_has_a_reason("film_band_fate_has_a_reason"),
        )

    def __str__(self) -> str:
        """Band in words."""
        end = f"to {self.high_um:g}" if self.high_um is not None else "or more"
        return f"{self.about}, {self.era}: {self.low_um:g} {end} µm"
