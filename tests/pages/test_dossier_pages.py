"""The dossier's page: making it, the list of those made, and fetching one."""

from __future__ import annotations

import hashlib

import pytest
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.desk.dossier.making import set_dossier
from asfound.record.background.worker import StoppableWorker
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


def test_a_worker_sets_it_once_while_the_page_waits(cast: Cast, worker: StoppableWorker) -> None:
    address = reverse("dossier", args=(cast.car.slug,))
    fragment = {"HX-Request": "true"}
    assert cast.owner.post(address, headers=fragment).status_code == 403
    assert "Setting the pages" in cast.craft.post(address, headers=fragment).content.decode()
    cast.head.post(address, headers=fragment)
    asked = DBTaskResult.objects.get()
    given = asked.args_kwargs["kwargs"]
    assert "Setting the pages" in cast.owner.get(address).content.decode(), "who reads sees it too"
    worker.take(asked)
    page = cast.craft.get(address, headers=fragment).content.decode()
    assert Dossier.objects.get().sha256 in page
    assert "Make the dossier" in page
    set_dossier.call(**given)  # as after a worker that was killed once the dossier was kept
    assert Dossier.objects.count() == 1


@pytest.mark.usefixtures("worker")
def test_one_that_is_stopped_leaves_none(cast: Cast) -> None:
    address = reverse("dossier", args=(cast.car.slug,))
    cast.craft.post(address)
    cast.craft.post(address, {"step": "stop"})
    assert "Stopped; nothing was kept." in cast.craft.get(address).content.decode()
    assert not DBTaskResult.objects.exists()
    assert not Dossier.objects.exists()
