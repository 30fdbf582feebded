"""Which decisions hold: begun, watched, stopped, and shown."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest
from django.core.cache import cache
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.desk.decisions import holding

FRAGMENT = {"HX-Request": "true"}


def at(cast: Cast, name: str) -> str:
    return reverse(name, args=(cast.car.slug,))


def step(cast: Cast, who: str, word: str):
    return getattr(cast, who).post(at(cast, "holding"), {"step": word}, headers=FRAGMENT)


@pytest.fixture
def waiting(monkeypatch: pytest.MonkeyPatch) -> list[Callable[[], None]]:
    """Work that was begun, to be done when the test says so."""
    begun: list[Callable[[], None]] = []

    class Later:
        def __init__(self, *, target, args, daemon) -> None:
            self._work = lambda: target(*args)

        def start(self) -> None:
            begun.append(self._work)

    monkeypatch.setattr(threading, "Thread", Later)
    monkeypatch.setattr(holding, "DRAWS", 12)
    return begun


def test_draws_are_begun_watched_and_shown(cast: Cast, waiting, monkeypatch) -> None:
    assert "Try them" in cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert 'hx-trigger="every 1s"' in step(cast, "head", "begin").content.decode()
    step(cast, "craft", "begin")
    assert len(waiting) == 1
    monkeypatch.undo()  # the pool of the core needs real threads
    monkeypatch.setattr(holding, "DRAWS", 12)
    waiting[0]()
    page = cast.owner.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "of 3" in page
    assert "hx-trigger" not in page


def test_draws_are_stopped_and_nothing_is_kept(cast: Cast, waiting, monkeypatch) -> None:
    step(cast, "head", "begin")
    step(cast, "head", "stop")
    monkeypatch.undo()
    monkeypatch.setattr(holding, "DRAWS", 12)
    waiting[0]()
    page = cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "Stopped; nothing was kept." in page
    assert "Try them" in page


def test_an_owner_begins_nothing(cast: Cast, waiting) -> None:
    assert step(cast, "owner", "begin").status_code == 403
    assert waiting == []


def test_a_brief_that_cannot_be_met_ends_the_draws_with_the_reason(
    cast: Cast, waiting, monkeypatch
) -> None:
    cast.car.options.update(safe=False)
    cache.clear()
    step(cast, "head", "begin")
    monkeypatch.undo()
    monkeypatch.setattr(holding, "DRAWS", 12)
    waiting[0]()
    page = cast.head.get(at(cast, "holding"), headers=FRAGMENT).content.decode()
    assert "Nothing satisfies the brief" in page


def test_without_scripts_it_leads_back_to_the_decisions(cast: Cast) -> None:
    assert cast.head.get(at(cast, "holding")).url == at(cast, "decisions")
