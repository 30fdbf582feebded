"""Undo: a withdrawal that was a slip is taken back, by a line of its own in the log."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest
from django.urls import reverse

from asfound.record.models import Car

UNDO_TAG = "undo:"
"""What a message that offers an undo carries before its address."""


def offer_undo(request: HttpRequest, told: str, *, car: Car, kind: str, pk: int) -> None:
    """Tell what was done, with a button that takes it back.

    Parameters
    ----------
    request : HttpRequest
    told : str
        What was done.
    car : Car
    kind : str
        One of those that ``undo.views`` can take back: ``film-reading``, ``observation``,
        ``photo``, ``photo-change``, ``move``, ``part``, ``part-change``, ``came-off``,
        ``on-again``, ``sheet``, ``lock``.
    pk : int
        Key of what was withdrawn.
    """
    address = reverse("undo", args=(car.slug, kind, pk))
    messages.success(request, told, extra_tags=f"{UNDO_TAG}{address}")


def offer_workshop_undo(request: HttpRequest, told: str, *, kind: str, pk: int) -> None:
    """Tell what was done to something that all cars share, with a button that takes it back.

    Parameters
    ----------
    request : HttpRequest
    told : str
        What was done.
    kind : str
        One of those that ``undo.workshop`` can take back: ``place``, ``place-move``,
        ``template``, ``salvage-piece``, ``salvage-use``, ``salvage-photo``.
    pk : int
        Key of what was withdrawn.
    """
    address = reverse("undo-workshop", args=(kind, pk))
    messages.success(request, told, extra_tags=f"{UNDO_TAG}{address}")
