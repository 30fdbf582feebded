"""Salvage stock: pieces of original material and parts of other cars, and what was said of them."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import at_least
from asfound.record.models.observed import Observed, fate_has_a_reason


class Nap(models.TextChoices):
    """How nap or grain runs."""

    ONE_WAY = "one way", "one way"
    BOTH_WAYS = "both ways", "the same both ways"


class SalvagePiece(models.Model):
    """A piece by its number and tag; what it is stands in its rows, the latest of which counts."""

    number = models.CharField(max_length=40, unique=True)
    tag = models.TextField(unique=True, help_text="What its label carries")
    key = models.CharField(max_length=64, blank=True, help_text="Of the sender")

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("key",), condition=~models.Q(key=""), name="salvage_piece_once"
            ),
        )

    def __str__(self) -> str:
        """Number of the piece."""
        return self.number


class SalvageRow(Observed):
    """A row of ``salvage.csv``: a piece as it was described, corrected by another row.

    ``defects`` are rows of ``salvage_defects.csv`` without the number.
    """

    piece = models.ForeignKey(SalvagePiece, on_delete=models.PROTECT, related_name="rows")
    kind = models.TextField()
    name = models.TextField()
    source_car = models.TextField(blank=True)
    made = models.TextField(blank=True, help_text="EDTF")
    L = models.FloatField(null=True)
    a = models.FloatField(null=True)
    b = models.FloatField(null=True)
    thickness_mm = models.FloatField(null=True)
    count = models.PositiveIntegerField(null=True)
    outline_wkt = models.TextField(blank=True)
    nap = models.CharField(max_length=20, blank=True, choices=Nap)
    nap_deg = models.FloatField(null=True)
    defects = models.JSONField(default=list)
    place = models.TextField(blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=("kind",)), models.Index(fields=("place",)))
        constraints = (
            fate_has_a_reason("salvage_row_fate_has_a_reason"),
            at_least("thickness_mm", 0, name="salvage_thickness_not_negative"),
            models.CheckConstraint(
                condition=~models.Q(kind="") & ~models.Q(name=""), name="salvage_is_named"
            ),
        )

    def __str__(self) -> str:
        """Number and name of the piece."""
        return f"{self.piece.number} {self.name}"


class SalvagePhoto(Observed):
    """A photograph of a piece; its untouched bytes lie on the shelf."""

    piece = models.ForeignKey(SalvagePiece, on_delete=models.PROTECT, related_name="photos")
    sha256 = models.CharField(max_length=64)
    size = models.BigIntegerField()
    suffix = models.CharField(max_length=10)
    taken_at = models.TextField(blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            fate_has_a_reason("salvage_photo_fate_has_a_reason"),
            models.UniqueConstraint(
                fields=("piece", "sha256"),
                condition=models.Q(superseded_by=None, withdrawn_at=None),
                name="salvage_photo_once",
            ),
        )

    def __str__(self) -> str:
        """File in the folder of the stock."""
        return f"photos/{self.sha256}{self.suffix}"


class SalvageUse(Observed):
    """What was reserved or used of a piece, for which car; a reservation is ended by its use."""

    class What(models.TextChoices):
        """Whether it is still there."""

        RESERVED = "reserved", "reserved"
        USED = "used", "used"

    piece = models.ForeignKey(SalvagePiece, on_delete=models.PROTECT, related_name="uses")
    what = models.CharField(max_length=20, choices=What)
    car = models.ForeignKey(
        "record.Car", null=True, on_delete=models.PROTECT, related_name="salvage_uses"
    )
    need = models.TextField(blank=True, help_text="Name of the car's need that it serves")
    part = models.TextField(blank=True, help_text="Number of the part that was made of it")
    count = models.PositiveIntegerField(null=True)
    outline_wkt = models.TextField(blank=True, help_text="Where on the piece, in its mm")
    note = models.TextField(blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            fate_has_a_reason("salvage_use_fate_has_a_reason"),
            models.CheckConstraint(
                condition=models.Q(what__in=("reserved", "used")), name="salvage_use_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(count=None) | models.Q(count__gte=1),
                name="salvage_use_takes_one_or_more",
            ),
        )

    def __str__(self) -> str:
        """What became of how much, for which car."""
        return f"{self.piece.number} {self.what} for {self.car or 'the workshop'}"
