"""A place of the workshop in which parts lie: a room, a shelf, a box, a bag."""

from __future__ import annotations

from django.db import models


class PlaceKind(models.TextChoices):
    """What a place is."""

    ROOM = "room", "Room"
    SHELF = "shelf", "Shelf"
    BOX = "box", "Box"
    BAG = "bag", "Bag"
    OUTSIDE = "outside", "Outside the workshop"


class Place(models.Model):
    """A place by its name, which parts name in turn; unique in the workshop."""

    name = models.TextField(unique=True)
    kind = models.CharField(max_length=20, choices=PlaceKind)
    within = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="inside")
    tag = models.TextField(unique=True, help_text="What its label carries")
    note = models.TextField(blank=True)
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_reason = models.TextField(blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(kind__in=PlaceKind.values), name="place_kind_is_known"
            ),
        )

    def __str__(self) -> str:
        """Name of the place."""
        return self.name
