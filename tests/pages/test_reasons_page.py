"""Reasons for which there was no time: told apart, asked for behind the page, kept when stopped."""

from __future__ import annotations

import pytest
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.base import StoppedError
from asfound.choose import explain
from asfound.record.background.worker import StoppableWorker
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice, choice_result, exact_reasons

FRAGMENT = {"HX-Request": "true"}


def at(cast: Cast, name: str = "reasons") -> str:
    return reverse(name, args=(cast.car.slug,))


@pytest.fixture
def hurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """A first answer that has no time for any reason."""

    def no_time(problem, choice, **given):
        return explain(problem, choice, **{"time_limit_s": 1e-9, **given})

    monkeypatch.setattr(choice, "explain", no_time)


@pytest.mark.usefixtures("hurried")
def test_what_is_not_exact_is_told_apart_and_asked_for(
    cast: Cast, monkeypatch: pytest.MonkeyPatch, worker: StoppableWorker
) -> None:
    page = cast.owner.get(at(cast, "decisions"), {"whole": "1"}).content.decode()
    assert "prices are exact" in page
    assert "Find the rest" not in page
    assert cast.owner.post(at(cast), {"step": "begin"}).status_code == 403
    page = cast.head.post(at(cast), {"step": "begin"}, headers=FRAGMENT).content.decode()
    assert 'hx-trigger="load delay:1s"' in page
    monkeypatch.undo()
    asked = DBTaskResult.objects.get()
    worker.take(asked)
    page = cast.owner.get(at(cast), headers=FRAGMENT).content.decode()
    assert "Every price is exact" in page
    whys = choice_result(folder_of(cast.car)).whys
    assert [why.kept_lost is None for why in whys] == sorted(w.kept_lost is None for w in whys)


@pytest.mark.usefixtures("hurried")
def test_what_was_found_before_the_stop_is_kept(cast: Cast) -> None:
    folder = folder_of(cast.car)
    first = sum(why.proved for why in choice_result(folder).whys)

    def stop(share: float) -> None:
        if share > 0.5:
            raise StoppedError

    with pytest.raises(StoppedError):
        exact_reasons(folder, progress=stop)
    whys = choice_result(folder).whys
    assert first < sum(why.proved for why in whys) < len(whys)
