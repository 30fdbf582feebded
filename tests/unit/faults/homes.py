"""Homes of their own, with programs that run in them and may be killed."""

from __future__ import annotations

import http.client
import json
import os
import shutil
import signal
import time
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import psycopg
from tests.unit.faults.nursery import Nursery, Started

COMMAND = "from asfound.__main__ import main; main()"
_NOT_OURS = ("DATABASE_URL", "DJANGO_SETTINGS_MODULE")
CSRF = "a" * 32
"""Cookie and field of one browser; Django asks only that they agree."""
BOUNDARY = "asfoundboundary"

BEGIN = """
import io, json, sys
from pathlib import Path
from asfound import site
site.setup()
"""
_FIRST = (
    BEGIN
    + """
site.migrate()
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from tests.unit.record.conftest import small_folder
from asfound.record.actions import add_parts, add_place, create_account, load_car
from asfound.record.shelf import shelve
head = create_account(username="head", role="head", password="walnut-veneer-41", by=None)
car = load_car(folder=small_folder(), by=None)
places = [add_place(name=f"Box {n}", kind="box", within=None, note="", by=None) for n in range(3)]
parts = add_parts(car=car, rows=[{"name": f"Clip {n}"} for n in range(6)], by=None)
session = SessionStore()
session[SESSION_KEY] = str(head.user.pk)
session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
session[HASH_SESSION_KEY] = head.user.get_session_auth_hash()
session.save()
print(json.dumps({"session": session.session_key, "car": car.slug,
    "parts": [[p.part, p.tag] for p in parts], "places": [[p.name, p.tag] for p in places]}))
"""
)


@dataclass(kw_only=True)
class Home:
    """A home, and on PostgreSQL a database with it."""

    folder: Path
    nursery: Nursery
    url: str = ""
    told: dict[str, Any] = field(default_factory=dict)

    @property
    def env(self) -> dict[str, str]:
        """Surroundings of programs that work in it."""
        env = {name: value for name, value in os.environ.items() if name not in _NOT_OURS}
        own = {"ASFOUND_HOME": str(self.folder)}
        return {**env, **own, **({"DATABASE_URL": self.url} if self.url else {})}

    def begin(self) -> Home:
        """Give it a head, a car with parts, and boxes."""
        self.told = json.loads(self.python(_FIRST))
        return self

    def copy(self, folder: Path) -> Home:
        """Another home with the same in it."""
        shutil.copytree(self.folder, folder)
        return replace(self, folder=folder, url=copy_of(self.url))

    def empty(self, folder: Path) -> Home:
        """A new home, with an empty database."""
        return replace(self, folder=folder, url=copy_of(self.url, empty=True), told={})

    def start(self, code: str, *words: str) -> Started:
        """A program that runs in it."""
        return self.nursery.start(code, *words, env=self.env)

    def python(self, code: str, *words: str) -> str:
        """What a program in the home prints."""
        done = self.start(code, *words)
        assert done.ended() == 0, done.err
        return done.out

    def command(self, *words: str) -> Started:
        """An asfound command run in the home, once it has ended."""
        done = self.start(COMMAND, *words)
        done.ended()
        return done

    def files(self) -> set[Path]:
        """Files on the shelf and beside it."""
        return {path for path in (self.folder / "files").rglob("*") if path.is_file()}


def copy_of(url: str, *, empty: bool = False) -> str:
    """Address of a new database like the one of that address; none for none."""
    if not url:
        return ""
    server, _, name = url.rpartition("/")
    made = f"{name.partition('_f')[0]}_f{time.monotonic_ns()}"
    like = "" if empty else f' TEMPLATE "{name}"'
    with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{made}"{like}')
    return f"{server}/{made}"


def drop(url: str) -> None:
    """Take a database away."""
    if url:
        server, _, name = url.rpartition("/")
        with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
            connection.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')


class Served:
    """A home that is served, as ``asfound serve`` does, until it is ended or killed."""

    def __init__(self, home: Home, *, before: str = "") -> None:
        self.home = home
        self.program = home.start(f"{before}\n{COMMAND}", "serve", "--port", "0", "--workers", "0")
        found = self.program.wait_for(r"http://127\.0\.0\.1:(\d+)/")
        self.port = int(found[1])

    def __enter__(self) -> Served:
        return self

    def __exit__(self, *_error: object) -> None:
        self.program.signal(signal.SIGINT)
        self.program.ended()

    def kill(self) -> None:
        """End it as a pulled plug does."""
        self.program.signal(signal.SIGKILL)
        self.program.ended()

    def ask(
        self,
        method: str,
        path: str,
        *,
        body: bytes = b"",
        kind: str = "",
        json_wanted: bool = False,
    ) -> tuple[int, bytes]:
        """Status and body of an answer.

        Raises
        ------
        OSError or http.client.HTTPException
            If the server did not answer.
        """
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        headers = {"Cookie": self.cookie, "Accept": "application/json" if json_wanted else "*/*"}
        if kind:
            headers["Content-Type"] = kind
        try:
            connection.request(method, path, body=body or None, headers=headers)
            answer = connection.getresponse()
            return answer.status, answer.read()
        finally:
            connection.close()

    @property
    def cookie(self) -> str:
        """Cookies of the head's browser."""
        return f"sessionid={self.home.told['session']}; csrftoken={CSRF}"

    def post(self, path: str, **fields: str) -> int:
        """Status of an answer to a form."""
        body = urlencode({"csrfmiddlewaretoken": CSRF, **fields}).encode()
        return self.ask("POST", path, body=body, kind="application/x-www-form-urlencoded")[0]

    def send_photo(self, name: str, content: bytes) -> tuple[int, Any]:
        """Status and what is told of a photograph that was sent."""
        path = f"/cars/{self.home.told['car']}/photos/add/"
        kind = f"multipart/form-data; boundary={BOUNDARY}"
        status, told = self.ask(
            "POST", path, body=photo_form(name, content), kind=kind, json_wanted=True
        )
        return status, json.loads(told) if told.startswith(b"{") else told.decode()


def photo_form(name: str, content: bytes) -> bytes:
    """Body of the form that sends one photograph."""
    fields = {"csrfmiddlewaretoken": CSRF, "subject": "bonnet", "view": "whole", "stage": "before"}
    parts = [
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'.encode()
        for key, value in fields.items()
    ]
    head = (
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="sent"; filename="{name}"\r\n'
        "Content-Type: image/png\r\n\r\n"
    )
    return b"".join((*parts, head.encode(), content, f"\r\n--{BOUNDARY}--\r\n".encode()))
