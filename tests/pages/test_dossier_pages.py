"""The dossier's page: making it, the list of those made, and fetching one."""

from __future__ import annotations

import hashlib

from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.models import Dossier


def test_a_dossier_is_made_listed_and_fetched(cast: Cast) -> None:
    address = reverse("dossier", args=(cast.car.slug,))
    assert cast.craft.post(address).url == address
    made = Dossier.objects.get()
    assert made.made_by.username == "trimmer"
    page = cast.owner.get(address).content.decode()
    assert made.sha256 in page
    assert "unchanged" in page
    fetched = cast.owner.get(reverse("dossier-file", args=(cast.car.slug, made.pk)))
    data = b"".join(fetched.streaming_content)
    assert data.startswith(b"%PDF-")
    assert hashlib.sha256(data).hexdigest() == made.sha256


def test_a_car_that_changed_since_is_said_to_have(cast: Cast) -> None:
    address = reverse("dossier", args=(cast.car.slug,))
    cast.head.post(address)
    cast.head.post(
        reverse("lock", args=(cast.car.slug, "brakes")), {"option": "renew", "reason": "worn"}
    )
    assert "has changed" in cast.head.get(address).content.decode()


def test_a_dossier_of_others_does_not_exist_for_a_stranger(cast: Cast) -> None:
    cast.head.post(reverse("dossier", args=(cast.car.slug,)))
    file = reverse("dossier-file", args=(cast.car.slug, Dossier.objects.get().pk))
    assert cast.stranger.get(file).status_code == 404
    assert cast.nobody.get(file).status_code == 302
