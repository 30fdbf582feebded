"""A car."""

from __future__ import annotations

from django.db import models


class Car(models.Model):
    """A car, as ``car.csv`` tells it, and what the folder holds beside its tables.

    ``heads`` keeps the columns of every table the folder had, in their order: a table without a
    head was not in the folder.
    """

    slug = models.SlugField(max_length=80, unique=True)
    marque = models.TextField(blank=True)
    model = models.TextField(blank=True)
    body_style = models.TextField(blank=True)
    built = models.TextField(blank=True, help_text="EDTF date")
    registration = models.TextField(blank=True)
    colour_name = models.TextField(blank=True)
    currency = models.TextField(blank=True)
    note = models.TextField(blank=True)
    extra = models.JSONField(default=dict)
    heads = models.JSONField(default=dict)
    package = models.JSONField(default=dict)
    lift = models.JSONField(null=True)
    is_invented = models.BooleanField(default=False)
    owners = models.ManyToManyField("record.Person", blank=True, related_name="cars")
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("marque", "model", "slug")

    def __str__(self) -> str:
        """Car in a few words."""
        words = (self.marque, self.model, self.registration)
        return " ".join(word for word in words if word) or self.slug
