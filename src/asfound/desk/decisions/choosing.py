"""The choice over the whole car, worked out beside the pages that show it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from asfound.desk.beside import waiting_for
from asfound.record.background.works import make_choice
from asfound.record.derived import choice_key
from asfound.record.folder import CarFolder
from asfound.record.models import Car


def waiting_for_choice(request: HttpRequest, car: Car, folder: CarFolder) -> HttpResponse | None:
    """Fragment that asks again by itself; none where the choice is there or is made here."""
    return waiting_for(
        request,
        make_choice,
        car,
        key=choice_key(folder),
        what="Choosing over the whole car",
        car=car.slug,
    )
