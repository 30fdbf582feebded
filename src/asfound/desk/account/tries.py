"""How often a password may be tried: wrong tries are counted by account and by address."""

from __future__ import annotations

import hashlib
import logging
import threading
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.core.cache import caches
from django.http import HttpRequest
from django.utils import timezone

CACHE = "sign-in"
_log = logging.getLogger("asfound.sign_in")
_one_at_a_time = threading.Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """So many wrong tries within a while; then none for the wait."""

    tries: int
    within: timedelta
    wait: timedelta


ONE_PLACE = Limit(tries=5, within=timedelta(minutes=15), wait=timedelta(minutes=5))
"""One account from one address: a person who mistypes, or a guesser at a tablet."""
ADDRESS = Limit(tries=30, within=timedelta(minutes=15), wait=timedelta(minutes=15))
"""All accounts from one address: names tried one after the other. A workshop of eight people
may share one address."""
ACCOUNT = Limit(tries=50, within=timedelta(hours=1), wait=timedelta(minutes=15))
"""One account from every address: guesses that come from many places."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Count:
    """Wrong tries since the first of them, and until when none is allowed."""

    wrong_n: int
    ends: datetime
    locked: bool = False


class TooManyTriesError(Exception):
    """No try is taken before ``until``."""

    def __init__(self, until: datetime) -> None:
        self.until = until
        super().__init__(f"no try before {until:%H:%M}")


def begin_try(*, account: str, address: str) -> None:
    """Count a try as wrong before the password is looked at, so that none slips past the count.

    Raises
    ------
    TooManyTriesError
        If a limit is reached; the password must not be looked at then.
    """
    now = timezone.now()
    with _one_at_a_time:
        counts = {key: _counted(key, limit, now) for key, limit in _keys(account, address)}
        locked = [count.ends for count in counts.values() if count.locked]
        if locked:
            raise TooManyTriesError(max(locked))
        for key, limit in _keys(account, address):
            _count_on(key, limit, counts[key], now, address)


def was_right(*, account: str, address: str) -> None:
    """Take the counts of that account back; those of the address lose this try alone."""
    now = timezone.now()
    with _one_at_a_time:
        for key, limit in _keys(account, address):
            count = _counted(key, limit, now)
            if limit is not ADDRESS:
                caches[CACHE].delete(key)
            elif count.wrong_n:
                kept = _Count(wrong_n=count.wrong_n - 1, ends=count.ends)
                caches[CACHE].set(key, kept, (kept.ends - now).total_seconds())


def address_of(request: HttpRequest) -> str:
    """Where the request comes from.

    A server in front that speaks HTTPS adds the sender as the last of ``X-Forwarded-For``; what
    stands before that anybody may have written.
    """
    told = request.headers.get("X-Forwarded-For", "") if settings.USE_HTTPS else ""
    return told.rpartition(",")[2].strip() or request.META.get("REMOTE_ADDR", "")


def _keys(account: str, address: str) -> tuple[tuple[str, Limit], ...]:
    name = account.strip().casefold()
    return (
        (_key("place", name, address), ONE_PLACE),
        (_key("address", address), ADDRESS),
        (_key("account", name), ACCOUNT),
    )


def _key(*parts: str) -> str:
    """Key that tells neither a name nor a password typed into the wrong field."""
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def _counted(key: str, limit: Limit, now: datetime) -> _Count:
    count = caches[CACHE].get(key)
    if isinstance(count, _Count) and count.ends > now:
        return count
    return _Count(wrong_n=0, ends=now + limit.within)


def _count_on(key: str, limit: Limit, count: _Count, now: datetime, address: str) -> None:
    wrong_n = count.wrong_n + 1
    locked = wrong_n >= limit.tries
    ends = now + limit.wait if locked else count.ends
    if locked:
        _log.warning("signing in is locked after %d wrong tries from %s", wrong_n, address)
    counted = _Count(wrong_n=wrong_n, ends=ends, locked=locked)
    caches[CACHE].set(key, counted, (ends - now).total_seconds())
