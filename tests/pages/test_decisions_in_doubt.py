"""Which decisions hold: begun, watched, stopped, and shown."""

from __future__ import annotations

import pytest
from django.core.cache import cache
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.desk.decisions import holding
from asfound.record.background.worker import StoppableWorker

FRAGMENT = {"HX-Request": "true"}


def at(cast: Cast, name: str) -> str:
    return reverse(name, args=(cast.car.slug,))


def step(cast: Cast, who: str, word: str):
    return getattr(cast, who).post(at(cast, "holding"), {"step": word}, headers=FRAGMENT)


@pytest.fixture(autouse=True)
def few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(holding, "DRAWS", 12)


def run(worker: StoppableWorker) -> None:
    """The one piece of work that was asked for, done."""
    asked = DBTaskResult.objects.get()
    worker.take(asked)


def test_draws_are_begun_watched_and_shown(cast: Cast, worker: StoppableWorker) -> None:
    assert "Try them" in cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert 'hx-trigger="load delay:1s"' in step(cast, "head", "begin").content.decode()
    step(cast, "craft", "begin")
    run(worker)
    page = cast.owner.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "of 3" in page
    assert "hx-trigger" not in page


def test_draws_are_stopped_and_nothing_is_kept(cast: Cast, worker: StoppableWorker) -> None:
    step(cast, "head", "begin")
    step(cast, "head", "stop")
    assert DBTaskResult.objects.count() == 0
    page = cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "Stopped; nothing was kept." in page
    assert "Try again" in page


def test_an_owner_begins_nothing(cast: Cast, worker: StoppableWorker) -> None:
    assert step(cast, "owner", "begin").status_code == 403
    assert DBTaskResult.objects.count() == 0


def test_a_brief_that_cannot_be_met_ends_the_draws_with_the_reason(
    cast: Cast, worker: StoppableWorker
) -> None:
    cast.car.options.update(safe=False)
    cache.clear()
    step(cast, "head", "begin")
    run(worker)
    page = cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "brakes has no safe option" in page


def test_without_scripts_it_leads_back_to_the_decisions(cast: Cast) -> None:
    assert cast.head.get(at(cast, "holding")).url == at(cast, "decisions")
