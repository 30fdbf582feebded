"""A real browser for the journeys: the system's Chromium, kept off the network."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.cache import cache, caches
from django.test import Client
from django.urls import reverse
from playwright.sync_api import Locator, Page, Request, Route, expect
from pytest_django.live_server_helper import LiveServer
from tests.pages.small_car import small_car

from asfound.record.actions import create_account, load_car
from asfound.record.models import Car

PASSWORD = "walnut-veneer-41"
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 800}

# pytest-playwright's synchronous interface runs an event loop in the main thread.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

# Long enough for a slow machine that does other work: whoever is not waited for is not there.
expect.set_options(timeout=30_000)

# The same engine without windows: a page opens in a third of the time.
_BROWSERS = ("chromium-headless-shell", "chromium")
CHROMIUM = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, _BROWSERS)), "")
_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
]
_HERE = ("http://localhost", "http://127.0.0.1", "data:", "blob:")
# pytest's warning about how the plugin that gives `base_url` is written; not ours to mend.
_PLUGIN_WARNING = "ignore:Session-scoped fixtures defined as instance methods"
_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent not in item.path.parents:
            continue
        item.add_marker(pytest.mark.filterwarnings(_PLUGIN_WARNING))
        if not CHROMIUM:
            item.add_marker(pytest.mark.skip(reason="no chromium on this machine"))


@pytest.fixture(scope="session")
def quiet_server(live_server: LiveServer) -> Iterator[LiveServer]:
    """The live server, ended only when every request thread of it has let go of the database."""
    yield live_server
    for thread in threading.enumerate():
        if "process_request_thread" in thread.name:
            thread.join(timeout=10)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict, quiet_server: LiveServer) -> dict:
    """The browser opens after the server and so is closed before it."""
    return {**browser_type_launch_args, "executable_path": CHROMIUM, "args": _ARGUMENTS}


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict) -> dict:
    return {
        **browser_context_args,
        "viewport": {"width": 1280, "height": 800},
        "locale": "en-GB",
        # Colours stand as soon as they are set, so that none is looked at on its way.
        "reduced_motion": "reduce",
        "timezone_id": "UTC",
    }


@pytest.fixture(autouse=True)
def stays_here_and_quiet(request: pytest.FixtureRequest) -> Iterator[None]:
    """No page may reach another host, break the content policy or throw in its scripts."""
    if "page" not in request.fixturenames:
        yield
        return
    page: Page = request.getfixturevalue("page")
    away: list[str] = []
    wrong: list[str] = []

    def watch(asked: Request) -> None:
        if not asked.url.startswith(_HERE):
            away.append(asked.url)

    page.on("request", watch)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on(
        "console",
        lambda line: wrong.append(line.text) if "Content Security Policy" in line.text else None,
    )
    yield
    assert not away, f"the page reached off this host: {away}"
    assert not wrong, f"the page's scripts or policy complain: {wrong}"


@pytest.fixture(scope="session")
def assert_accessible():
    """Check of a page against WCAG 2.2 A and AA as far as a machine can see it."""

    def check(page: Page) -> None:
        # Only what breaks a rule is told in full: telling what holds takes as long as finding it.
        result = Axe().run(page, options={"runOnly": _RULES, "resultTypes": ["violations"]})
        assert result.violations_count == 0, result.generate_report()

    return check


@pytest.fixture
def car(transactional_db: None, tmp_path: Path, settings: Any) -> Car:
    """The small car, with a head and a trimmer, in a home of its own."""
    settings.ASFOUND_HOME = tmp_path
    cache.clear()
    caches["sign-in"].clear()
    for name, role in (("trimmer", "craftsperson"), ("head", "head")):
        create_account(username=name, role=role, password=PASSWORD, by=None)
    return load_car(folder=small_car(), by=None)


def become(
    page: Page, live_server: LiveServer, name: str, size: dict[str, int] | None = None
) -> None:
    """Somebody signed in on the page; the form is tried where somebody comes in by the door."""
    client = Client()
    client.force_login(get_user_model().objects.get(username=name))
    cookie = client.cookies[settings.SESSION_COOKIE_NAME]
    page.context.clear_cookies()
    page.context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])
    if size:
        page.set_viewport_size(size)


def follow(target: Locator) -> None:
    """Click what leads to another page, and wait until that page is in, with its scripts."""
    with target.page.expect_navigation():
        target.click()


def tap_on(figure: Locator, across: float, down: float) -> None:
    """Tap a figure at these shares of its width and height."""
    box = None
    while box is None:  # what was kept draws a figure anew: for a moment there is none
        expect(figure).to_be_visible()
        box = figure.bounding_box()
    figure.click(position={"x": box["width"] * across, "y": box["height"] * down})


@contextmanager
def messages_lost(page: Page) -> Iterator[None]:
    """What is sent to the workshop is lost, and the pages still come; then the network is back."""

    def lose(route: Route) -> None:
        if route.request.method == "POST":
            route.abort("internetdisconnected")
        else:
            route.fallback()

    page.route("**/*", lose)
    yield
    page.unroute("**/*", lose)
    page.evaluate("window.dispatchEvent(new Event('online'))")


@pytest.fixture
def at(page: Page, car: Car, live_server: LiveServer) -> Callable[..., None]:
    """As the trimmer on a phone, go to a page of the car."""
    become(page, live_server, "trimmer", PHONE)

    def go(name: str, *rest: str) -> None:
        page.goto(live_server.url + reverse(name, args=(car.slug, *rest)))

    return go
