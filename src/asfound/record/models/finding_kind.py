"""A kind of finding that the workshop added to those that come with the program."""

from __future__ import annotations

from django.db import models

from asfound.record.models.observed import Observed, fate_has_a_reason


class FindingKind(Observed):
    """A word for findings, with what it is met on and what is meant by it."""

    word = models.TextField()
    group = models.TextField(blank=True, help_text="What it is met on")
    says = models.TextField(blank=True, help_text="What is meant by it")

    class Meta:
        ordering = ("word", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("word",),
                condition=models.Q(superseded_by=None, withdrawn_at=None),
                name="finding_kind_one_word_counts",
            ),
            fate_has_a_reason("finding_kind_fate_has_a_reason"),
        )

    def __str__(self) -> str:
        """The word."""
        return self.word
