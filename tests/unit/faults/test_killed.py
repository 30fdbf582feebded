"""The server killed in the middle of an upload and of a move: what was acknowledged is there.

The signal is SIGKILL, which leaves a process no time for anything, as a pulled plug does. What a
plug takes from the disk's own memory as well is held against the order of the syncs elsewhere.
"""

from __future__ import annotations

import hashlib
import http.client
import io
import json
import socket
import threading
import time
from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image
from tests.unit.faults.homes import BEGIN, BOUNDARY, Home, Served, photo_form

pytestmark = pytest.mark.django_db

_AFTER = (
    BEGIN
    + """
import hashlib
from asfound.record.log import check_chain
from asfound.record.models import Entry, Observation, Part, Photo
from asfound.record.shelf import on_shelf, place_of, shelf_folder
chain = check_chain()
moves = Observation.objects.current().filter(table="moves").order_by("pk")
print(json.dumps({
    "whole": chain.broken is None,
    "lines": [chain.lines_n, chain.head],
    "photos": sorted(Photo.objects.values_list("sha256", flat=True)),
    "damaged": [sha for sha, _ in on_shelf(shelf_folder())
        if hashlib.sha256(place_of(sha).read_bytes()).hexdigest() != sha],
    "gone": [p.sha256 for p in Photo.objects.all() if not place_of(p.sha256).exists()],
    "moves": [[m.subject, m.cells["to_place"]] for m in moves],
    "places": dict(Part.objects.values_list("part", "place")),
    "parts": Part.objects.count(),
}))
"""
)
_KILL = "import os, signal; kill = lambda *a, **k: os.kill(os.getpid(), signal.SIGKILL)\n"
_POINTS = {
    "before the photograph has its name": "import asfound.record.draft as d; d.os.replace = kill",
    "between its bytes and its row": "import sys, asfound.exchange.photographs; "
    "sys.modules['asfound.exchange.photographs.take_in'].keep_read = kill",
    "within the transaction": "import asfound.record.log as l; l.hash_of = kill",
}
"""Where the process dies, each set once it listens."""


def photograph(number: int, *, side: int = 60) -> bytes:
    """PNG of noise, another one for each number."""
    noise = np.random.default_rng(number).integers(0, 255, (side, side, 3), dtype=np.uint8)
    out = io.BytesIO()
    Image.fromarray(noise).save(out, "PNG")
    return out.getvalue()


def sha256_of(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def assert_sound(home: Home) -> dict:
    """What the record tells after a restart: whole, and nothing half-written beside it."""
    told = json.loads(home.python(_AFTER))
    assert told["whole"], "the chain of the log breaks"
    assert told["damaged"] == []
    assert told["gone"] == []
    left = [path for path in home.folder.rglob(".draft-*") if "scratch" not in path.parts]
    assert left == []
    for part, place in dict(told["moves"]).items():
        assert told["places"][part] == place, f"{part} is not where its last move says"
    return told


def dies_at(home: Home, point: str) -> Served:
    """A server that is killed at that point of the next upload."""
    setting = f"from asfound import site; site.setup(); {_POINTS[point]}\n"
    return Served(
        home,
        before=_KILL
        + "import asfound.site as s; listens = s.server\n"
        + f"def armed(**k):\n    made = listens(**k); exec({setting!r}, {{'kill': kill}})\n"
        + "    return made\ns.server = armed\n",
    )


def test_killed_at_every_point_of_an_upload(new_home: Callable[..., Home]) -> None:
    home, kept, lost = new_home(), photograph(1), photograph(2)
    half_on_its_way(home, photograph(3, side=1_200))
    for number, point in enumerate(_POINTS):
        dying = dies_at(home, point)
        assert len(list((home.folder / "scratch").iterdir())) == 1, "the killed one's is gone"
        with pytest.raises((OSError, http.client.HTTPException)):
            dying.send_photo("lost.png", lost)
        assert dying.program.ended() == -9, point
        on_shelf = {path.name for path in home.files() if not path.name.startswith(".")}
        assert on_shelf == ({sha256_of(lost)[2:]} if number else set()), point
    with Served(home) as server:
        assert server.send_photo("kept.png", kept)[0] == 200
        assert assert_sound(home)["photos"] == [sha256_of(kept)]
        assert server.send_photo("lost.png", lost)[0] == 200
        assert server.ask("GET", f"/cars/{home.told['car']}/photos/")[1].count(b"/small.jpg") == 2


def half_on_its_way(home: Home, content: bytes) -> None:
    """Kill a server that has half of a photograph."""
    body = photo_form("half.png", content)
    server = Served(home)
    with socket.create_connection(("127.0.0.1", server.port)) as line:
        head = (
            f"POST /cars/{home.told['car']}/photos/add/ HTTP/1.1\r\nHost: localhost\r\n"
            f"Cookie: {server.cookie}\r\nContent-Length: {len(body)}\r\n"
            f"Content-Type: multipart/form-data; boundary={BOUNDARY}\r\n\r\n"
        )
        line.sendall(head.encode() + body[: len(body) // 2])
        time.sleep(0.2)
        server.kill()
    assert list((home.folder / "scratch").iterdir()), "the killed process left its scratch"


def _wait_until(is_so: Callable[[], object]) -> None:
    until = time.monotonic() + 10
    while not is_so() and time.monotonic() < until:
        time.sleep(0.02)


def test_killed_while_people_move_enter_and_photograph(new_home: Callable[..., Home]) -> None:
    home = new_home()
    server = Served(home)
    sent: list[str] = []
    moved: list[tuple[str, str]] = []
    entered: list[int] = []
    tags, boxes = home.told["parts"], home.told["places"]

    def send(number: int) -> None:
        content = photograph(100 + number)
        if server.send_photo(f"{number}.png", content)[0] == 200:
            sent.append(sha256_of(content))

    def move(number: int) -> None:
        (part, tag), (name, box) = tags[number % len(tags)], boxes[number % len(boxes)]
        if server.post("/scan/", tags=tag, place=box) == 302:
            moved.append((part, name))

    def enter(number: int) -> None:
        path = f"/cars/{home.told['car']}/parts/add/"
        if server.post(path, name=f"Washer {number}", key=f"key-{number}") == 302:
            entered.append(number)

    people = [threading.Thread(target=_until_it_dies, args=(one,)) for one in (send, move, enter)]
    for person in people:
        person.start()
    _wait_until(lambda: sent and moved and entered)
    time.sleep(0.4)
    server.kill()
    for person in people:
        person.join(timeout=20)
    with Served(home):
        told = assert_sound(home)
    assert set(sent) <= set(told["photos"])
    assert len(sent) <= len(told["photos"]) <= len(sent) + 1, "one more may have been on its way"
    moves = [tuple(move) for move in told["moves"]]
    assert moves[: len(moved)] == moved
    assert len(moved) <= len(moves) <= len(moved) + 1
    assert 0 <= told["parts"] - len(tags) - len(entered) <= 1


def _until_it_dies(act: Callable[[int], None]) -> None:
    for number in range(1_000):
        try:
            act(number)
        except (OSError, http.client.HTTPException):
            return
