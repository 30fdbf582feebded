"""What work tells while it is done: how far it is, and why it ended without a result."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.core.cache import cache

from asfound.base import AsfoundError, EnoughError, NoSolutionError, StoppedError
from asfound.record.background.asking import (
    KEPT_S,
    STOPPED,
    gives_best_key,
    progress_key,
    stop_key,
    tell_end,
)
from asfound.record.faults import InputFaultsError


def tell(key: str, done: float) -> None:
    """Tell the share that is done, and hear whether to stop."""
    if cache.get(stop_key(key)):
        raise StoppedError
    cache.set(progress_key(key), done, KEPT_S)


def tell_till_enough(key: str, done: float) -> None:
    """Tell the share that is done; a stop asks for the best so far, for which the worker waits.

    Raises
    ------
    EnoughError
        If it is to stop.
    """
    cache.add(gives_best_key(key), True, KEPT_S)
    try:
        tell(key, done)
    except StoppedError:
        raise EnoughError from None


def told(key: str, work: Callable[[], Any]) -> None:
    """Work done; what stands against it is told to whoever asked."""
    try:
        work()
    except StoppedError:
        tell_end(key, "stopped", STOPPED)
    except InputFaultsError as error:
        tell_end(key, "refused", "\n".join(map(str, error.faults)))
    except NoSolutionError as error:
        tell_end(key, "refused", "\n".join(error.clash) or str(error))
    except AsfoundError as error:
        tell_end(key, "refused", str(error))
    except Exception as error:
        tell_end(key, "failed", f"It failed: {type(error).__name__}.")
        raise
