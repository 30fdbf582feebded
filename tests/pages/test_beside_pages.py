"""What takes long is worked out beside the pages: asked for once, shown as it goes, stopped."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.core.cache import cache
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.record.background.asking import tell_end
from asfound.record.background.place import workers_folder
from asfound.record.background.worker import _Stoppable
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_key
from asfound.record.draft import draft_file

FRAGMENT = {"HX-Request": "true"}


@pytest.fixture
def worker() -> Iterator[_Stoppable]:
    """A worker that lives, and works when it is told to."""
    cache.clear()
    with draft_file(workers_folder()) as (held, _):
        yield _Stoppable(held.name)


def choice(cast: Cast, who: str = "head", query: str = "") -> str:
    address = reverse("choice", args=(cast.car.slug,)) + query
    return getattr(cast, who).get(address, headers=FRAGMENT).content.decode()


def test_the_page_waits_asks_once_and_fills_in(cast: Cast, worker: _Stoppable) -> None:
    assert "Choosing over the whole car" in choice(cast)
    assert "other work comes first" in choice(cast, "craft")
    assert DBTaskResult.objects.count() == 1
    asked = DBTaskResult.objects.get()
    asked.claim(worker.worker_id)
    assert "other work" not in choice(cast)
    worker.run_task(asked)
    assert "The choice at a glance" in choice(cast)
    assert DBTaskResult.objects.count() == 0


def test_work_is_stopped_and_tried_again(cast: Cast, worker: _Stoppable) -> None:
    choice(cast)
    assert "Try again" in choice(cast, query="?stop=1")
    assert DBTaskResult.objects.count() == 0
    assert "Stopped; nothing was kept." in choice(cast), "it does not begin by itself again"
    assert "other work comes first" in choice(cast, query="?again=1")


def test_an_owner_stops_nothing(cast: Cast, worker: _Stoppable) -> None:
    choice(cast)
    page = choice(cast, "owner", "?stop=1")
    assert DBTaskResult.objects.count() == 1
    assert "Stop</button>" not in page


def test_a_refusal_is_told_as_the_page_tells_it(cast: Cast, worker: _Stoppable) -> None:
    cast.car.options.update(safe=False)
    tell_end(choice_key(folder_of(cast.car)), "no matter", is_refused=True)
    assert "Choosing over the whole car" not in choice(cast)


def test_without_a_worker_the_page_does_the_work(cast: Cast) -> None:
    cache.clear()
    assert "The choice at a glance" in choice(cast)
    assert DBTaskResult.objects.count() == 0
