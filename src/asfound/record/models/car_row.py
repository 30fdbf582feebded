"""What every row of a car's table has: its car, its place, and columns nobody declared."""

from __future__ import annotations

from django.db import models


class CarRow(models.Model):
    """A row of a table of the car folder.

    Fields are called as the columns of the folder; cells of other columns are in ``extra``.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE)
    position = models.PositiveIntegerField()
    extra = models.JSONField(default=dict)

    class Meta:
        abstract = True
        ordering = ("position", "pk")


def at_least(field: str, least: float, *, name: str) -> models.CheckConstraint:
    """Rule of the database: the field is empty or no less than that."""
    return models.CheckConstraint(condition=models.Q(**{f"{field}__gte": least}), name=name)


def between(field: str, least: float, most: float, *, name: str) -> models.CheckConstraint:
    """Rule of the database: the field is empty or lies between the two, both included."""
    return models.CheckConstraint(
        condition=models.Q(**{f"{field}__gte": least, f"{field}__lte": most}), name=name
    )
