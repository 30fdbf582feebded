"""Passwords cannot be guessed at leisure: wrong tries are counted, then there is a wait."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.cache import caches
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import PASSWORD

from asfound.desk.account import tries
from asfound.desk.account.tries import ADDRESS, CACHE, ONE_PLACE


@pytest.fixture(autouse=True)
def _no_count_from_before(account):
    caches[CACHE].clear()
    account("head", "head")
    account("trimmer", "craftsperson")


def sign_in(name: str, password: str, *, address: str = "10.0.0.1", **headers: str):
    return Client(REMOTE_ADDR=address).post(
        reverse("sign-in"), {"username": name, "password": password}, headers=headers
    )


def fail(times: int, name: str = "head", *, address: str = "10.0.0.1") -> list[int]:
    return [sign_in(name, f"wrong-{i}", address=address).status_code for i in range(times)]


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch):
    """Let time pass for the counts."""

    def go(by: timedelta) -> None:
        moment = timezone.now() + by
        monkeypatch.setattr(tries.timezone, "now", lambda: moment)

    return go


def test_after_five_wrong_tries_even_the_right_password_waits() -> None:
    assert fail(ONE_PLACE.tries) == [200] * ONE_PLACE.tries
    answer = sign_in("head", PASSWORD)
    page = answer.content.decode()
    assert answer.status_code == 429
    assert 0 < int(answer["Retry-After"]) <= ONE_PLACE.wait.total_seconds()
    until = timezone.localtime(answer.context["locked_until"])
    assert f"{until:%H:%M:%S}" in page
    assert "do not fit together" not in page
    assert "_auth_user_id" not in answer.client.session


def test_the_wait_ends_and_tries_in_between_do_not_lengthen_it(later) -> None:
    fail(ONE_PLACE.tries)
    first = sign_in("head", PASSWORD).context["locked_until"]
    assert sign_in("head", PASSWORD).context["locked_until"] == first
    later(ONE_PLACE.wait + timedelta(seconds=1))
    assert sign_in("head", PASSWORD).status_code == 302


def test_wrong_tries_far_apart_do_not_add_up(later) -> None:
    fail(ONE_PLACE.tries - 1)
    later(ONE_PLACE.within + timedelta(seconds=1))
    assert fail(ONE_PLACE.tries - 1) == [200] * (ONE_PLACE.tries - 1)


def test_who_gets_it_right_begins_anew() -> None:
    for _ in range(3):
        fail(ONE_PLACE.tries - 1)
        assert sign_in("head", PASSWORD).status_code == 302


def test_others_and_other_places_are_not_locked_out() -> None:
    fail(ONE_PLACE.tries)
    assert sign_in("head", PASSWORD, address="10.0.0.2").status_code == 302
    assert sign_in("trimmer", PASSWORD).status_code == 302


@pytest.mark.parametrize("name", ["HEAD", " head ", "Head"])
def test_a_name_written_otherwise_is_the_same_account(name: str) -> None:
    fail(ONE_PLACE.tries)
    assert sign_in(name, PASSWORD).status_code == 429


def test_many_names_from_one_address_are_stopped_too() -> None:
    for i in range(ADDRESS.tries):
        sign_in(f"nobody-{i}", "guess")
    assert sign_in("head", PASSWORD).status_code == 429
    assert sign_in("head", PASSWORD, address="10.0.0.2").status_code == 302


def test_a_right_password_in_between_does_not_free_the_address() -> None:
    for i in range(ADDRESS.tries):
        sign_in(f"nobody-{i}", "guess")
        if i == ADDRESS.tries // 2:
            assert sign_in("trimmer", PASSWORD).status_code == 302
    assert sign_in("trimmer", PASSWORD).status_code == 429


def test_one_account_from_many_addresses_is_stopped_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for i in range(tries.ACCOUNT.tries):
        sign_in("head", "guess", address=f"10.0.{i}.1")
    assert sign_in("head", PASSWORD, address="10.9.9.9").status_code == 429
    assert sign_in("trimmer", PASSWORD, address="10.9.9.9").status_code == 302


def test_behind_a_server_the_address_is_the_one_that_server_saw(settings) -> None:
    settings.USE_HTTPS = True
    for i in range(ONE_PLACE.tries):
        sign_in("head", "guess", **{"X-Forwarded-For": f"1.2.3.{i}, 10.7.7.7"})
    locked = sign_in("head", PASSWORD, **{"X-Forwarded-For": "9.9.9.9, 10.7.7.7"})
    assert locked.status_code == 429
    assert sign_in("head", PASSWORD, **{"X-Forwarded-For": "10.8.8.8"}).status_code == 302


def test_without_such_a_server_the_header_is_not_believed() -> None:
    for i in range(ONE_PLACE.tries):
        sign_in("head", "guess", **{"X-Forwarded-For": f"1.2.3.{i}"})
    assert sign_in("head", PASSWORD, **{"X-Forwarded-For": "9.9.9.9"}).status_code == 429


def test_no_name_and_no_password_is_kept(caplog: pytest.LogCaptureFixture) -> None:
    fail(ONE_PLACE.tries, "my-password-by-mistake")
    assert "locked after 5 wrong tries from 10.0.0.1" in caplog.text
    assert "my-password-by-mistake" not in caplog.text
