"""A table that is kept and given back unchanged."""

from __future__ import annotations

from django.db import models


class KeptSheet(models.Model):
    """A table whose room does not read it from the database: its rows as text.

    Its columns stand in the car's ``heads``, like those of every table.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="kept_sheets")
    table = models.CharField(max_length=40)
    rows = models.JSONField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("car", "table"), name="kept_sheet_once_a_car"),
        )

    def __str__(self) -> str:
        """Name of the table."""
        return self.table
