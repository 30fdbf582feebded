"""An observation other than of the film gauge: a row of one of the observed tables."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import models

from asfound.record.models.observed import Observed, fate_has_a_reason

OBSERVED = (
    *("metal", "colour", "polish", "gaps", "findings", "moves", "errands", "needs"),
    *("worked", "materials_used", "results", "dissents", "purchases", "payments", "holds"),
)
"""Tables whose rows are observations: each with who wrote it and when, corrected, never lost."""


class Observation(Observed):
    """A row of an observed table, its cells as the folder writes them."""

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="observations")
    table = models.CharField(max_length=40)
    subject = models.TextField(blank=True, help_text="Panel, part or edge that it was made on")
    position = models.PositiveIntegerField()
    cells = models.JSONField()

    class Meta:
        ordering = ("position", "pk")
        indexes = (
            models.Index(fields=("car", "table", "subject")),
            models.Index(fields=("car", "table", "position"), name="observation_in_order"),
        )
        constraints = (fate_has_a_reason("observation_fate_has_a_reason"),)

    def __str__(self) -> str:
        """Table and cells in words."""
        told = ", ".join(f"{column} {cell}" for column, cell in self.cells.items() if cell)
        return f"{self.table}: {told}"


def subject_of(cells: Mapping[str, str]) -> str:
    """Panel, part or edge that a row of an observed table speaks of."""
    return next(
        (cells[name] for name in ("panel", "part", "edge", "subject") if cells.get(name)), ""
    )
