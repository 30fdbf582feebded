"""The secret key of this installation, made by whoever starts first."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

_KEY_CHARACTERS = 64


def own_key(place: Path) -> str:
    """Key in the file at ``place``, made once and readable by its user alone.

    Raises
    ------
    ImproperlyConfigured
        If the file holds no key, so that sessions are never signed with an empty one.

    Notes
    -----
    The key is written beside its place and then linked there: the link is made whole or, where
    another process was first, not at all. So nobody reads a key that is half written.
    """
    if not place.exists():
        _make(place)
    key = place.read_text(encoding="ascii").strip()
    if len(key) < _KEY_CHARACTERS:
        raise ImproperlyConfigured(
            f"{place} holds no whole key. Delete the file; a new key signs everybody out once."
        )
    return key


def _make(place: Path) -> None:
    draft = place.with_name(f".{place.name}-{secrets.token_hex(8)}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(descriptor, "w", encoding="ascii") as file:
            file.write(secrets.token_urlsafe(_KEY_CHARACTERS))
            file.flush()
            os.fsync(file.fileno())
        os.link(draft, place)
    except FileExistsError:
        pass  # another process was first; its key counts
    finally:
        draft.unlink()
