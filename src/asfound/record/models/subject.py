"""A piece or area on which a decision is taken."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import CarRow, at_least, between


class Subject(CarRow):
    """A subject with the weight of its fabric and the lowest grade allowed.

    Its ``locked_option`` is not here: a lock is a :class:`Decision`.
    """

    subject = models.TextField()
    weight = models.FloatField(null=True)
    min_grade = models.FloatField(null=True)
    zone = models.TextField(blank=True)

    class Meta(CarRow.Meta):
        default_related_name = "subjects"
        constraints = (
            models.UniqueConstraint(
                fields=("car", "subject"), name="subject_name_is_unique_in_car"
            ),
            at_least("weight", 0, name="subject_weight_not_negative"),
            between("min_grade", 0, 5, name="subject_min_grade_0_to_5"),
        )

    def __str__(self) -> str:
        """Name of the subject."""
        return self.subject
