"""A home of its own for every run of the tests; nothing is written to the user's."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.core.cache import cache, caches
from django.test import override_settings

_HOME = tempfile.TemporaryDirectory(prefix="asfound-tests-")
# For the programs that tests start; this process read its settings before this file.
os.environ["ASFOUND_HOME"] = _HOME.name


@pytest.fixture(autouse=True, scope="session")
def home() -> Iterator[Path]:
    """Temporary home, quick password hashing, and a cache that lives in memory."""
    with (
        _HOME,
        override_settings(
            ASFOUND_HOME=Path(_HOME.name),
            SECRET_KEY="only for tests",
            PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"],
            CACHES={"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}},
        ),
    ):
        yield Path(_HOME.name)
        caches.close_all()


@pytest.fixture
def clean_cache() -> None:
    """Nothing kept from another test."""
    cache.clear()
