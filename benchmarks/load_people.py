"""People at the desk: each looks for parts, enters, moves, scans and looks at photographs."""

from __future__ import annotations

import http.client
import random
import re
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from urllib.parse import urlencode

from benchmarks.load_record import PARTS, PHOTOS, Place

_CSRF = "b" * 32
_BOUNDARY = "loadboundary"
_KEYSTROKE_S = 0.15
_SEARCHED = ("grommet rear", "hinge", "box 12", "escutcheon 12", "corrosion", "trim clip front")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer: how long it took within the server, what of it was computing, and in all."""

    kind: str
    server_ms: float
    cpu_ms: float
    client_ms: float
    status: int


@dataclass(slots=True)
class Person:
    """Somebody with a browser of their own, who pauses between what they do."""

    number: int
    port: int
    place: Place
    pause_s: float
    photos: list[bytes]
    answers: list[Answer] = field(default_factory=list)
    draw: random.Random = field(init=False)
    line: http.client.HTTPConnection = field(init=False)

    def work(self, until: float) -> None:
        """Go from one thing to the next until the clock says so."""
        self.draw = random.Random(self.number)
        self.line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        tasks = [task for task, weight in _TASKS for _ in range(weight)]
        while time.monotonic() < until:
            self.draw.choice(tasks)(self)
            time.sleep(self.draw.uniform(0.4, 1.6) * self.pause_s)
        self.line.close()

    # What a person does

    def look_for_a_part(self) -> None:
        words = self.draw.choice(_SEARCHED)
        for end in range(2, len(words) + 1):
            self.get("search as typed", f"/search/?q={words[:end].replace(' ', '+')}", htmx=True)
            time.sleep(_KEYSTROKE_S * (self.pause_s > 0))
        self.get("part", f"/cars/{self.car()}/parts/of/{self.part()}/")

    def look_through_the_register(self) -> None:
        car = self.car()
        self.get("register", f"/cars/{car}/parts/?page={self.draw.randint(1, PARTS // 50)}")
        word = self.draw.choice(("hinge", "seal rear", "12", "missing"))
        for end in range(1, len(word) + 1):
            self.get(
                "register as typed",
                f"/cars/{car}/parts/?q={word[:end].replace(' ', '+')}",
                htmx=True,
            )
            time.sleep(_KEYSTROKE_S * (self.pause_s > 0))
        self.get("register", f"/cars/{car}/parts/?only=missing")

    def enter_a_part(self) -> None:
        path = f"/cars/{self.car()}/parts/add/"
        self.get("quick add, form", path)
        key = f"{self.draw.random()}"
        box = self.draw.choice(self.place.boxes)[0]
        self.post("quick add, sent", path, name=f"washer {key[2:6]}", place=box, parent="", key=key)

    def move_a_part(self) -> None:
        page = f"/cars/{self.car()}/parts/of/{self.part()}/"
        self.get("part", page)
        box = self.draw.choice(self.place.boxes)[0]
        self.post("move", f"{page}move/", to_place=box, note="")
        self.get("part", page)

    def scan_into_a_box(self) -> None:
        self.get("scan, page", "/scan/")
        tags = [self.draw.choice(self.place.parts)[1] for _ in range(3)]
        box = self.draw.choice(self.place.boxes)[1]
        for tag in (*tags, box):
            self.get("scan, what is it", f"/scan/what/?tag={tag}")
        self.post("scan, moved", "/scan/", tags="\n".join(tags), place=box, key="")

    def look_at_photographs(self) -> None:
        car = self.car()
        self.get("photographs", f"/cars/{car}/photos/")
        for sha256 in self.draw.sample(self.place.photos[car], 12):
            self.get("small picture", f"/cars/{car}/photos/of/{sha256}/small.jpg")
        page = self.draw.randint(2, PHOTOS // 48)
        self.get("photographs", f"/cars/{car}/photos/?page={page}")
        sha256 = self.draw.choice(self.place.photos[car])
        self.get("photograph", f"/cars/{car}/photos/of/{sha256}/")

    def send_a_photograph(self) -> None:
        car = self.car()
        self.get("photograph, form", f"/cars/{car}/photos/add/?subject={self.part()}")
        content = self.draw.choice(self.photos) + self.draw.randbytes(16)
        self.send_photo(f"/cars/{car}/photos/add/", content)

    def look_at_the_sheets(self) -> None:
        car = self.car()
        self.get("cars", "/")
        self.get("sheet of the car", f"/cars/{car}/")
        self.get("its finish", f"/cars/{car}/finish/", htmx=True)
        self.get("its choice", f"/cars/{car}/choice/", htmx=True)
        self.get("survey", f"/cars/{car}/survey/")
        self.get("missing photographs", f"/cars/{car}/photos/wanted/")
        self.get("log", f"/cars/{car}/log/")

    def look_into_places(self) -> None:
        self.get("places", "/places/")
        self.get("place", f"/places/{self.draw.choice(self.place.boxes)[1]}/")

    # How it is asked

    def car(self) -> str:
        """Most work is on three cars at a time."""
        return self.draw.choice(
            self.place.cars[:3] if self.draw.random() < 0.7 else self.place.cars
        )

    def part(self) -> int:
        return 10_000 + self.draw.randrange(PARTS)

    def get(self, kind: str, path: str, *, htmx: bool = False) -> None:
        self._ask(kind, "GET", path, headers={"HX-Request": "true"} if htmx else {})

    def post(self, kind: str, path: str, **fields: str) -> None:
        body = urlencode({"csrfmiddlewaretoken": _CSRF, **fields}).encode()
        form = {"Content-Type": "application/x-www-form-urlencoded"}
        self._ask(kind, "POST", path, headers=form, body=body)

    def send_photo(self, path: str, content: bytes) -> None:
        fields = {"csrfmiddlewaretoken": _CSRF, "subject": "car", "view": "whole"}
        head = "".join(
            f'--{_BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
            for name, value in {**fields, "stage": "before"}.items()
        )
        head += f'--{_BOUNDARY}\r\nContent-Disposition: form-data; name="sent"; filename="a.jpg"'
        body = f"{head}\r\nContent-Type: image/jpeg\r\n\r\n".encode() + content
        kind = {"Content-Type": f"multipart/form-data; boundary={_BOUNDARY}"}
        end = f"\r\n--{_BOUNDARY}--\r\n".encode()
        kind["Accept"] = "application/json"
        self._ask("photograph, sent", "POST", path, headers=kind, body=body + end)

    def _ask(
        self, kind: str, method: str, path: str, *, headers: dict[str, str], body: bytes = b""
    ) -> None:
        cookie = f"sessionid={self.place.sessions[self.number]}; csrftoken={_CSRF}"
        begun = time.perf_counter()
        self.line.request(method, path, body=body or None, headers={"Cookie": cookie, **headers})
        answer = self.line.getresponse()
        answer.read()
        client_ms = 1e3 * (time.perf_counter() - begun)
        timed = re.findall(r"dur=([\d.]+)", answer.headers["Server-Timing"])
        server_ms, cpu_ms = map(float, timed)
        told = Answer(
            kind=kind,
            server_ms=server_ms,
            cpu_ms=cpu_ms,
            client_ms=client_ms,
            status=answer.status,
        )
        self.answers.append(told)


_TASKS: tuple[tuple[Callable[[Person], None], int], ...] = (
    (Person.look_for_a_part, 4),
    (Person.look_through_the_register, 3),
    (Person.enter_a_part, 4),
    (Person.move_a_part, 4),
    (Person.scan_into_a_box, 4),
    (Person.look_at_photographs, 3),
    (Person.send_a_photograph, 3),
    (Person.look_at_the_sheets, 2),
    (Person.look_into_places, 2),
)


def at_work(people: list[Person], lasts_s: float) -> list[Answer]:
    """All answers that the people got in that time."""
    until = time.monotonic() + lasts_s
    threads = [threading.Thread(target=person.work, args=(until,)) for person in people]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return [answer for person in people for answer in person.answers]
