"""A disk that has no room left, told from every other error."""

from __future__ import annotations

import errno

from django.db import OperationalError

_FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
_FULL_WORDS = ("disk is full", "no space left", "disk full", "could not extend file")
"""How SQLite and PostgreSQL say it."""


def is_full(error: BaseException) -> bool:
    """Whether the error, or what caused it, says that there is no room to write.

    Examples
    --------
    >>> import errno
    >>> is_full(OSError(errno.ENOSPC, "No space left on device"))
    True
    >>> is_full(OSError(errno.EACCES, "Permission denied"))
    False
    """
    met: BaseException | None = error
    while met is not None:
        if isinstance(met, OSError) and met.errno in _FULL:
            return True
        if isinstance(met, OperationalError) and _says_full(str(met)):
            return True
        met = met.__cause__
    return False


def _says_full(words: str) -> bool:
    return any(word in words.lower() for word in _FULL_WORDS)
