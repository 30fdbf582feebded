"""Making a dossier: beside the page, as it takes photographs and a choice to set one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.contrib.auth import get_user_model
from django.utils import timezone
from django_tasks import task

from asfound.desk.dossier.made import inputs_sha256
from asfound.dossier import make_dossier
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.actions import keep_dossier
from asfound.record.background.telling import tell, told
from asfound.record.convert.film_base import band_of
from asfound.record.convert.stored import folder_of, whole
from asfound.record.log import head_hash
from asfound.record.models import Car
from asfound.record.reads import film_bands
from asfound.record.reads.salvage_used import material_of


def dossier_key(car: Car) -> str:
    """Name of the work: a car has one dossier made at a time."""
    return f"dossier-of:{car.slug}"


@task()
def set_dossier(*, key: str, car: str, by: int, since: str) -> None:
    """A dossier of the car as it is, kept among those that were made.

    ``since`` is when it was asked for: one that was kept after it is the one asked for, by a worker
    that was killed before it could say so.
    """
    about = Car.objects.get(slug=car)
    if about.dossiers.filter(made_at__gte=datetime.fromisoformat(since)).exists():
        return
    told(key, lambda: _set(about, by=_user(by), progress=lambda done: tell(key, done)))


def _set(car: Car, *, by: Any, progress: Callable[[float], None]) -> None:
    folder, material = whole(folder_of(car)), material_of(car)
    data = make_dossier(
        folder,
        made_on=timezone.localdate(),
        bands=tuple(band_of(row) for row in film_bands()),
        progress=progress,
        log_head=head_hash(),
        picture=picture_on_shelf,
        material=material,
    )
    made_from = inputs_sha256(folder, material)
    keep_dossier(car=car, data=data, inputs_sha256=made_from, by=by)


def _user(pk: int) -> Any:
    return get_user_model().objects.get(pk=pk)
