"""A part of a car: an assembly, a part or a fixing."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models

from asfound.record.models.car_row import CarRow, at_least, between


def part_words(number: str, name: str) -> str:
    """Number and name of a part; the name alone where it says the number.

    Examples
    --------
    >>> part_words("0042", "left hinge"), part_words("carpet", "Carpet set")
    ('0042 left hinge', 'Carpet set')
    """
    said = number[:1].isalpha() and number.casefold() in name.casefold()
    return name if said else f"{number} {name}".strip()


class Parts(models.QuerySet["Part"]):
    """Parts, among them those that were split, merged, replaced or withdrawn."""

    def current(self) -> Self:
        """Those that are there as they were entered."""
        return self.filter(fate="")


class Part(CarRow):
    """A part, with where it is now; how it came there is in the car's ``moves``.

    A part never leaves the register: its ``fate`` says what became of it, and ``followed_by``
    which parts stand in its place.
    """

    part = models.TextField()
    name = models.TextField(blank=True)
    parent = models.TextField(blank=True)
    section = models.TextField(blank=True)
    state = models.TextField(blank=True)
    condition = models.TextField(blank=True)
    mass_kg = models.FloatField(null=True)
    place = models.TextField(blank=True)
    significance = models.FloatField(null=True)
    safety = models.BooleanField(null=True)
    note = models.TextField(blank=True)
    kind = models.TextField(blank=True)
    tag = models.TextField(blank=True, help_text="What its label carries; unique in the workshop")
    fixed_with = models.TextField(blank=True)
    joint = models.TextField(blank=True, help_text="The joint that a bag of fixings belongs to")
    borrowed_from = models.TextField(blank=True)
    lent_to = models.TextField(blank=True)
    fate = models.TextField(blank=True)
    fate_reason = models.TextField(blank=True)
    followed_by = models.TextField(blank=True)
    entered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    entered_at = models.DateTimeField(auto_now_add=True)

    objects = Parts.as_manager()

    class Meta(CarRow.Meta):
        default_related_name = "parts"
        indexes = (
            models.Index(fields=("car", "parent")),
            models.Index(fields=("car", "position"), name="part_in_order"),
            models.Index(fields=("place", "fate"), name="part_by_place"),
            models.Index(fields=("lent_to",), condition=models.Q(lent_to__gt=""), name="part_lent"),
            models.Index(fields=("tag",)),
        )
        constraints = (
            models.UniqueConstraint(fields=("car", "part"), name="part_is_unique_in_car"),
            at_least("mass_kg", 0, name="part_mass_not_negative"),
            between("significance", 0, 5, name="part_significance_in_range"),
        )

    def __str__(self) -> str:
        """Tag and name of the part."""
        return part_words(self.part, self.name)
