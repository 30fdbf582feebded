"""A photograph or other file, known by its content."""

from __future__ import annotations

from django.db import models

from asfound.record.models.car_row import at_least


class KeptFile(models.Model):
    """Where a file of the car lies in its folder, and the hash that finds its bytes."""

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="kept_files")
    path = models.TextField()
    sha256 = models.CharField(max_length=64)
    size = models.BigIntegerField()

    class Meta:
        ordering = ("path",)
        constraints = (
            models.UniqueConstraint(fields=("car", "path"), name="kept_file_path_once_a_car"),
            at_least("size", 0, name="kept_file_size_not_negative"),
        )

    def __str__(self) -> str:
        """Path in the folder."""
        return self.path
