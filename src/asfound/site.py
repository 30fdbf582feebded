"""Django set up, migrated and served, for callers who need to know nothing of it."""

from __future__ import annotations

import errno
import logging
import os
import socket
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click
import django
from waitress.server import create_server

SETTINGS = "asfound.settings"
_THREADS = 4
_SLACK_BYTES = 1_000_000
"""What a form adds around the file it carries."""

host_option = click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    help="Address to serve at; 0.0.0.0 for every machine of the network.",
)
port_option = click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8000,
    show_default=True,
    help="Port to serve at; 0 takes a free one.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Server:
    """A server that listens already.

    ``run`` serves until the process is interrupted or ``close`` is called.
    """

    host: str
    port: int
    run: Callable[[], None]
    close: Callable[[], None]

    @property
    def address(self) -> str:
        """Address for people."""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"http://{host}:{self.port}/"


def setup() -> None:
    """Make the home and set Django up; safe to call again."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
    from django.conf import settings  # noqa: PLC0415 - reads the environment when imported

    settings.ASFOUND_HOME.mkdir(mode=0o700, parents=True, exist_ok=True)
    django.setup()


def home() -> Path:
    """Folder of the database, the files and the secret key."""
    from django.conf import settings  # noqa: PLC0415 - reads the environment when imported

    return Path(settings.ASFOUND_HOME)


@contextmanager
def at_work() -> Iterator[None]:
    """The home is worked in, where every table is there: ``migrate`` first.

    What killed processes left half-written is taken away.

    Temporary files lie in a folder of this process within the home, on the disk where they are
    wanted; the folder also tells others that somebody is at work.
    """
    from asfound.record.draft import clear_abandoned, draft_folder  # noqa: PLC0415 - after setup
    from asfound.record.statistics import refresh_statistics  # noqa: PLC0415

    refresh_statistics()
    for folder in ("", "scratch", "files", "cache/pictures"):
        clear_abandoned(home() / folder)
    before = tempfile.tempdir
    with draft_folder(home() / "scratch") as scratch:
        tempfile.tempdir = str(scratch)
        try:
            yield
        finally:
            tempfile.tempdir = before


def is_at_work() -> bool:
    """Whether another process works in the home now."""
    from asfound.record.draft import is_anything_held  # noqa: PLC0415 - after setup

    return is_anything_held(home() / "scratch")


def migrate(progress: Callable[[str], None] | None = None) -> None:
    """Bring the database to this version of the program.

    Parameters
    ----------
    progress : callable, optional
        Is told the name of each step before it runs.
    """
    from django.db import connection  # noqa: PLC0415 - needs Django set up
    from django.db.migrations.executor import MigrationExecutor  # noqa: PLC0415

    def tell(action: str, migration: Any = None, fake: bool | None = False) -> None:
        if progress is not None and action == "apply_start":
            progress(f"{migration.app_label}: {migration.name}")

    executor = MigrationExecutor(connection, progress_callback=tell)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if plan:
        executor.migrate(executor.loader.graph.leaf_nodes(), plan=plan)
        _after_migrating(plan)


def _after_migrating(plan: list[Any]) -> None:
    """Content types and permissions, as ``manage.py migrate`` makes them."""
    from django.core.management.sql import emit_post_migrate_signal  # noqa: PLC0415
    from django.db import DEFAULT_DB_ALIAS  # noqa: PLC0415

    emit_post_migrate_signal(0, False, DEFAULT_DB_ALIAS, plan=plan)


def server(*, host: str = "127.0.0.1", port: int = 0) -> Server:
    """Server that listens; on a free port where ``port`` is 0 or taken."""
    try:
        listening = _listen(host, port)
    except OSError as error:
        if error.errno != errno.EADDRINUSE or port == 0:
            raise
        listening = _listen(host, 0)
    return _serve_on(listening, host)


def _listen(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    return socket.create_server((host, port), family=family)


def _serve_on(listening: socket.socket, host: str) -> Server:
    from django.conf import settings  # noqa: PLC0415 - needs Django set up
    from django.core.wsgi import get_wsgi_application  # noqa: PLC0415

    from asfound.no_room import AnsweringChannel  # noqa: PLC0415

    # A queue of requests is nothing that a person at the terminal could mend.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    waiting = create_server(
        get_wsgi_application(),
        sockets=[listening],
        threads=_THREADS,
        ident="asfound",
        max_request_body_size=settings.MAX_CAR_UPLOAD_BYTES + _SLACK_BYTES,
        clear_untrusted_proxy_headers=not settings.USE_HTTPS,
    )
    waiting.channel_class = AnsweringChannel
    port = listening.getsockname()[1]
    return Server(host=host, port=port, run=waiting.run, close=waiting.close)
