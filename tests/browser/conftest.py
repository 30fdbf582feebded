"""A real browser for the journeys: the system's Chromium, kept off the network."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page, Request
from pytest_django.live_server_helper import LiveServer

from asfound.record.models import Car

PASSWORD = "walnut-veneer-41"
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 800}

# pytest-playwright's synchronous interface runs an event loop in the main thread.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

CHROMIUM = os.environ.get("CHROMIUM") or shutil.which("chromium") or ""
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
        result = Axe().run(page, options={"runOnly": _RULES})
        assert result.violations_count == 0, result.generate_report()

    return check


@pytest.fixture
def at(page: Page, car: Car, live_server: LiveServer) -> Callable[..., None]:
    """Sign in as the trimmer on a phone, then go to a page of the car."""
    page.set_viewport_size(PHONE)
    page.goto(live_server.url)
    page.get_by_label("Username").fill("trimmer")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()

    def go(name: str, *rest: str) -> None:
        page.goto(live_server.url + reverse(name, args=(car.slug, *rest)))

    return go
