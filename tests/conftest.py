"""A home of its own for every run of the tests; nothing is written to the user's."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import hypothesis
import pytest
from django.conf import settings
from django.core.cache import cache
from django.db import connection

_HOME = tempfile.TemporaryDirectory(prefix="asfound-tests-")
# Laws draw the same cases every time: what passed here passes there, on a busy machine too.
hypothesis.settings.register_profile(
    "same",
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[hypothesis.HealthCheck.too_slow],
)
hypothesis.settings.load_profile("same")
# For the programs that tests start; this process read its settings before this file.
os.environ["ASFOUND_HOME"] = _HOME.name


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the checks run the tests of the record a second time, on another database."""
    parser.addoption(
        "--database-only", action="store_true", help="leave out tests that use no database"
    )


def pytest_report_header() -> str:
    """Which database the tests run on."""
    return f"database: {settings.DATABASES['default']['ENGINE'].rpartition('.')[2]}"


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what was not asked for."""
    if config.getoption("--database-only"):
        kept = [item for item in items if _uses_database(item)]
        config.hook.pytest_deselected(items=[item for item in items if item not in set(kept)])
        items[:] = kept


def _uses_database(item: pytest.Item) -> bool:
    fixtures = {"db", "transactional_db"} & set(getattr(item, "fixturenames", ()))
    return bool(fixtures) or item.get_closest_marker("django_db") is not None


@pytest.hookimpl(tryfirst=True)
def pytest_configure() -> None:
    """Temporary home, quick password hashing, and a cache that lives in memory."""
    settings.ASFOUND_HOME = Path(_HOME.name)
    settings.SECRET_KEY = "only for tests"
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    in_memory = {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}
    settings.CACHES = {name: {**in_memory, "LOCATION": name} for name in settings.CACHES}
    _keep_database_in_a_file()


def _keep_database_in_a_file() -> None:
    """Threads of a live server then have connections of their own, as they have when it serves."""
    database = settings.DATABASES["default"]
    if database["ENGINE"].endswith("sqlite3"):
        database.setdefault("TEST", {})["NAME"] = Path(_HOME.name) / "test.sqlite3"


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None) -> None:
    """The test database, which a test with transactions of its own may empty when it ends."""
    if connection.vendor == "sqlite":
        # Of the class: a browser's event loop gives the same thread a connection of its own.
        operations = type(connection.ops)
        operations.execute_sql_flush = _past_triggers(operations.execute_sql_flush)


def _past_triggers(flush: Callable[..., None]) -> Callable[..., None]:
    """SQLite empties a table line by line, which the triggers of the log refuse."""

    def flush_past_triggers(operations: object, statements: list[str]) -> None:
        with connection.cursor() as cursor:
            cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
            triggers = cursor.fetchall()
            for name, _ in triggers:
                cursor.execute(f"DROP TRIGGER {name}")
            flush(operations, statements)
            for _, made_by in triggers:
                cursor.execute(made_by)

    return flush_past_triggers


def pytest_unconfigure() -> None:
    """Take the home away."""
    _HOME.cleanup()


@pytest.fixture
def home() -> Path:
    """Where this run keeps its files."""
    return Path(_HOME.name)


@pytest.fixture
def clean_cache() -> None:
    """Nothing kept from another test."""
    cache.clear()
