"""When a decision turns, on the page of its piece: looked for, shown, stopped."""

from __future__ import annotations

import pytest
from django.core.cache import cache
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.convert.stored import folder_of
from asfound.record.derived import turning_key, turning_of

FRAGMENT = {"HX-Request": "true"}


def piece_of(cast: Cast) -> str:
    return cast.car.options.order_by("subject").values_list("subject", flat=True)[0]


def at(cast: Cast, name: str = "piece-turns") -> str:
    return reverse(name, args=(cast.car.slug, piece_of(cast)))


def test_the_numbers_stand_on_the_page_shown_whole(cast: Cast) -> None:
    page = cast.owner.get(at(cast, "piece"), {"whole": "1"}).content.decode()
    assert "When it turns" in page
    for turn in turning_of(folder_of(cast.car), piece_of(cast)).turns:
        assert turn.option in page
    assert cast.head.get(at(cast)).status_code == 302


@pytest.mark.usefixtures("worker")
def test_the_search_is_watched_and_stopped_by_who_may_write(cast: Cast) -> None:
    page = cast.head.get(at(cast), headers=FRAGMENT).content.decode()
    assert 'hx-trigger="load delay:1s"' in page
    assert cast.owner.post(at(cast), {"step": "stop"}, headers=FRAGMENT).status_code == 403
    cast.head.post(at(cast), {"step": "stop"}, headers=FRAGMENT)
    key = turning_key(folder_of(cast.car), piece_of(cast))
    page = cast.head.get(at(cast), headers=FRAGMENT).content.decode()
    assert "Stopped" in page
    assert "Try again" in page
    assert cache.get(key) is None


def test_a_stranger_finds_no_piece(cast: Cast) -> None:
    assert cast.stranger.get(at(cast), headers=FRAGMENT).status_code == 404
