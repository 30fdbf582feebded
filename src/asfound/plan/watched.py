"""Planning and promising told as one work, whose search may end with the best so far."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass

from asfound.base import EnoughError, NoSolutionError, StoppedError
from asfound.plan.plan import Progress

_SHARE_PLAN = 0.9


@dataclass(kw_only=True)
class Watched:
    """Tells how far it is, and hears whether the best so far is enough; that is promised yet.

    Parameters
    ----------
    progress : callable or None
        Told the share of both that is done, 0–1; ``EnoughError`` in it ends the search alone,
        anything else ends the work.
    is_enough : bool
        Whether the search was ended.
    """

    progress: Progress | None
    is_enough: bool = False

    @contextmanager
    def searching(self) -> Iterator[None]:
        """Around the search, which ended too early to tell that there is no plan.

        Raises
        ------
        StoppedError
            If it found no plan, but somebody had enough before it could tell.
        """
        try:
            yield
        except NoSolutionError:
            if self.is_enough:
                raise StoppedError from None
            raise

    def while_planning(self, done: float) -> None:
        """The progress of :func:`asfound.plan.plan`."""
        try:
            self._tell(_SHARE_PLAN * done)
        except EnoughError:
            self.is_enough = True
            raise

    def while_promising(self, done: float) -> None:
        """The progress of :func:`asfound.plan.promise`."""
        with suppress(EnoughError):
            self._tell(_SHARE_PLAN + (1 - _SHARE_PLAN) * done)

    def _tell(self, done: float) -> None:
        if self.progress:
            self.progress(done)
