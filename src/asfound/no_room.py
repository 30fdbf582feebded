"""A server that says in words what it cannot take: too large a file, or any on a full disk."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.utilities import Error, RequestEntityTooLarge

from asfound.record.full_disk import is_full


class _NoRoomError(Error):  # type: ignore[misc]  # waitress has no types
    code = 507
    reason = "Insufficient Storage"


class _Nowhere:
    """Takes the rest of a body in and keeps nothing of it."""

    def append(self, data: bytes) -> None:
        """Let the bytes go."""

    def close(self) -> None:
        """Nothing is open."""

    def __len__(self) -> int:
        return 0


class _Parser(HTTPRequestParser):  # type: ignore[misc]  # waitress has no types
    """Large bodies wait in a file; where that cannot grow, the rest is read and let go.

    A server that stopped reading instead would cut the line, and whoever sent would be told
    nothing.
    """

    no_room = False
    error: Error | None

    def received(self, data: bytes) -> int:
        """Take bytes in; how many."""
        try:
            taken: int = super().received(data)
        except OSError as error:
            if not is_full(error):
                raise
            self.no_room = True
            with suppress(OSError):  # what it still held in memory has no room either
                self.body_rcv.getbuf().close()
            self.body_rcv.buf = _Nowhere()
            taken = super().received(data)
        if self.no_room and self.completed and self.error is None:
            self.error = _NoRoomError("The disk of the workshop's computer is full.")
        if isinstance(self.error, RequestEntityTooLarge):  # by its length, before it is read
            most_mb = self.adj.max_request_body_size // 1_000_000
            self.error = RequestEntityTooLarge(f"At most {most_mb} MB are taken; none was read.")
        return taken


class AnsweringChannel(HTTPChannel):  # type: ignore[misc]  # waitress has no types
    """A connection whose requests are read so."""

    parser_class: Any = _Parser
