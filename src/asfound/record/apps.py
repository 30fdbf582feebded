"""The record as a Django app."""

from __future__ import annotations

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class RecordConfig(AppConfig):
    """Cars, people, what was measured and what was decided."""

    name = "asfound.record"
    label = "record"
    verbose_name = "record"

    def ready(self) -> None:
        """Give a new database the bands of film that come with the program."""
        from asfound.record.first_bands import give_first_bands  # noqa: PLC0415 - needs the models

        post_migrate.connect(give_first_bands, sender=self)
