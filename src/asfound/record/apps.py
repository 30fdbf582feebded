"""The record as a Django app."""

from __future__ import annotations

from django.apps import AppConfig


class RecordConfig(AppConfig):
    """Cars, people, what was measured and what was decided."""

    name = "asfound.record"
    label = "record"
    verbose_name = "record"
