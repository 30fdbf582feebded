"""A home of its own for every run of the tests; nothing is written to the user's."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest
from django.conf import settings
from django.core.cache import cache

_HOME = tempfile.TemporaryDirectory(prefix="asfound-tests-")
# For the programs that tests start; this process read its settings before this file.
os.environ["ASFOUND_HOME"] = _HOME.name


@pytest.hookimpl(tryfirst=True)
def pytest_configure() -> None:
    """Temporary home, quick password hashing, and a cache that lives in memory."""
    settings.ASFOUND_HOME = Path(_HOME.name)
    settings.SECRET_KEY = "only for tests"
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    in_memory = {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}
    settings.CACHES["default"] = in_memory
    _keep_database_in_a_file()


def _keep_database_in_a_file() -> None:
    """Threads of a live server then have connections of their own, as they have when it serves."""
    database = settings.DATABASES["default"]
    if database["ENGINE"].endswith("sqlite3"):
        database.setdefault("TEST", {})["NAME"] = Path(_HOME.name) / "test.sqlite3"


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
