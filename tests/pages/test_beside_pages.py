"""What takes long is worked out beside the pages: asked for once, shown as it goes, stopped."""

from __future__ import annotations

from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.record.background.asking import tell_end
from asfound.record.background.worker import StoppableWorker
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_key

FRAGMENT = {"HX-Request": "true"}


def choice(cast: Cast, who: str = "head", step: str = "") -> str:
    address, asks = reverse("choice", args=(cast.car.slug,)), getattr(cast, who)
    if step:
        return asks.post(address, {"step": step}, headers=FRAGMENT).content.decode()
    return asks.get(address, headers=FRAGMENT).content.decode()


def test_the_page_waits_asks_once_and_fills_in(cast: Cast, worker: StoppableWorker) -> None:
    assert "Choosing over the whole car" in choice(cast)
    assert "other work comes first" in choice(cast, "craft")
    assert DBTaskResult.objects.count() == 1
    asked = DBTaskResult.objects.get()
    asked.claim(worker.worker_id)
    assert "other work" not in choice(cast)
    worker.run_task(asked)
    assert "The choice at a glance" in choice(cast)
    assert DBTaskResult.objects.count() == 0


def test_work_is_stopped_and_tried_again(cast: Cast, worker: StoppableWorker) -> None:
    choice(cast)
    assert "Try again" in choice(cast, step="stop")
    assert DBTaskResult.objects.count() == 0
    assert "Stopped; nothing was kept." in choice(cast), "it does not begin by itself again"
    assert "other work comes first" in choice(cast, step="again")


def test_an_owner_stops_nothing(cast: Cast, worker: StoppableWorker) -> None:
    choice(cast)
    address = reverse("choice", args=(cast.car.slug,))
    assert cast.owner.post(address, {"step": "stop"}, headers=FRAGMENT).status_code == 403
    assert DBTaskResult.objects.count() == 1
    assert "Stop</button>" not in choice(cast, "owner")


def test_a_get_stops_nothing_and_a_post_brings_its_token(
    cast: Cast, worker: StoppableWorker
) -> None:
    assert "csrfmiddlewaretoken" in choice(cast)
    address = reverse("choice", args=(cast.car.slug,))
    cast.head.get(address, {"stop": "1", "step": "stop"}, headers=FRAGMENT)
    assert DBTaskResult.objects.count() == 1
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = cast.head.cookies
    assert strict.post(address, {"step": "stop"}, headers=FRAGMENT).status_code == 403
    assert DBTaskResult.objects.count() == 1


def test_a_refusal_is_told_as_the_page_tells_it(cast: Cast, worker: StoppableWorker) -> None:
    cast.car.options.update(safe=False)
    tell_end(choice_key(folder_of(cast.car)), "refused", "no matter")
    assert "Choosing over the whole car" not in choice(cast)


def test_without_a_worker_the_page_does_the_work_and_says_so(cast: Cast) -> None:
    cache.clear()
    page = choice(cast)
    assert "The choice at a glance" in page
    assert "No worker runs" in page
    assert "No worker runs" not in choice(cast, "owner"), "an owner can start none"
    assert DBTaskResult.objects.count() == 0
