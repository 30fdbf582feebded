"""The page on which a part that came off is entered: kept, refused, taken back."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, sheet_rows

TYPED = {"part": "R", "after": "grille", "off_on": "2026-11-02", "key": "k1"}


@pytest.fixture
def cast_with_parts(cast: Cast) -> Cast:
    rows = [{"part": n[0].upper(), "name": n} for n in ("grille", "radiator", "water pump")]
    add_parts(car=cast.car, rows=rows, by=None)
    return cast


def page_of(cast: Cast) -> str:
    return reverse("came-off", args=(cast.car.slug,))


def test_it_is_kept_by_number_or_name_and_taken_back(cast_with_parts: Cast) -> None:
    cast = cast_with_parts
    answer = cast.craft.post(page_of(cast), TYPED, follow=True).content.decode()
    assert "Kept: radiator came off after grille." in answer
    cast.car.refresh_from_db()
    (joint,) = sheet_rows(cast.car, "joints")
    assert (joint["part"], joint["comes_off_after"]) == ("R", "G")
    address = re.search(r'action="([^"]*/undo/came-off/\d+/)"', answer)
    assert address
    cast.craft.post(address[1])
    assert sheet_rows(cast.car, "joints") == []
    assert sheet_rows(cast.car, "removals") == []


def test_a_device_is_told_in_words_and_the_same_key_is_kept_once(cast_with_parts: Cast) -> None:
    cast = cast_with_parts
    script = {"HTTP_ACCEPT": "application/json"}
    for _ in range(2):
        answer = cast.craft.post(page_of(cast), TYPED, **script)
        assert answer.json()["next"] == page_of(cast) + "?part=R"
    cast.car.refresh_from_db()
    assert len(sheet_rows(cast.car, "joints")) == 1
    refused = cast.craft.post(page_of(cast), {**TYPED, "key": "k2", "after": "R"}, **script)
    assert refused.status_code == 422
    assert "cannot come off after itself" in refused.json()["faults"][0]
    refused = cast.craft.post(page_of(cast), {**TYPED, "key": "k3", "part": "flux"}, **script)
    assert "“flux” is the number or name of no single part" in refused.json()["faults"][0]


def test_an_owner_may_not_and_for_a_stranger_the_car_is_not_there(cast_with_parts: Cast) -> None:
    cast = cast_with_parts
    assert cast.owner.post(page_of(cast), TYPED).status_code in {403, 404}
    assert cast.stranger.post(page_of(cast), TYPED).status_code == 404
    assert sheet_rows(cast.car, "joints") == []
