"""What the workshop proposes to the owner, what is answered, and the signature."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models


class Proposals(models.QuerySet["Proposal"]):
    """Proposals, among them those that were withdrawn."""

    def current(self) -> Self:
        """Those that were not withdrawn."""
        return self.filter(withdrawn_at=None)

    def signed(self) -> Self:
        """Those that the owner signed."""
        return self.filter(signature__isnull=False)


class Proposal(models.Model):
    """A proposal as it was sent, with the document that holds it; it never changes.

    ``content`` is what the pages show of it, as it stood that day. One that follows a signed
    proposal is a change order: it tells what changes against it.
    """

    car = models.ForeignKey("record.Car", on_delete=models.CASCADE, related_name="proposals")
    number = models.PositiveIntegerField()
    follows = models.ForeignKey(
        "self", null=True, on_delete=models.PROTECT, related_name="followed_by"
    )
    title = models.CharField(max_length=120)
    words = models.TextField(blank=True)
    content = models.JSONField()
    document_sha256 = models.CharField(max_length=64)
    document_size = models.BigIntegerField()
    sent_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    withdrawn_reason = models.TextField(blank=True)

    objects = Proposals.as_manager()

    class Meta:
        ordering = ("-number",)
        constraints = (
            models.UniqueConstraint(fields=("car", "number"), name="proposal_number_in_car"),
        )

    def __str__(self) -> str:
        """What it is, with its number."""
        return f"{'Change order' if self.follows_id else 'Proposal'} {self.number}: {self.title}"

    @property
    def is_signed(self) -> bool:
        """Whether the owner signed it."""
        return hasattr(self, "signature")

    @property
    def is_open(self) -> bool:
        """Whether it can still be answered and signed."""
        return self.withdrawn_at is None and not self.is_signed


class Answer(models.Model):
    """What one person said to a proposal, of one piece or of the whole; none is ever changed."""

    class Kind(models.TextChoices):
        """What was said."""

        YES = "yes", "agrees"
        NO = "no", "does not agree"
        QUESTION = "question", "asks"
        REPLY = "reply", "replies"

    proposal = models.ForeignKey(Proposal, on_delete=models.CASCADE, related_name="answers")
    subject = models.TextField(blank=True)
    kind = models.CharField(max_length=10, choices=Kind)
    words = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(kind__in=("yes", "no", "question", "reply")),
                name="answer_kind_is_known",
            ),
            models.CheckConstraint(
                condition=models.Q(kind__in=("yes", "no")) | ~models.Q(words=""),
                name="answer_of_words_has_words",
            ),
        )

    def __str__(self) -> str:
        """Answer in words."""
        return f"{self.subject or 'the whole'}: {self.get_kind_display()}"


class Signature(models.Model):
    """The owner's signature under a proposal: typed name, account, time, and what was signed."""

    proposal = models.OneToOneField(Proposal, on_delete=models.PROTECT, related_name="signature")
    typed_name = models.CharField(max_length=120)
    document_sha256 = models.CharField(max_length=64)
    signed_sha256 = models.CharField(max_length=64)
    signed_size = models.BigIntegerField()
    signed_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=~models.Q(typed_name=""), name="signature_has_a_typed_name"
            ),
        )

    def __str__(self) -> str:
        """Name and day."""
        return f"{self.typed_name}, {self.signed_at:%Y-%m-%d}"
