"""What comes in wrong or to the wrong person: a clear answer, nothing lost, nothing given away."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car
from tests.pages.test_photo_pages import jpeg

from asfound.record.actions import (
    add_observations,
    add_parts,
    add_place,
    grant_owner,
    load_car,
    release_room,
    withdraw_part,
)
from asfound.record.log import check_chain
from asfound.record.models import Car, Part, Person, Place
from asfound.record.models.release import OwnersRoom
from asfound.record.shelf import shelf_folder

pytestmark = pytest.mark.django_db
SECRET = "bulkhead clip of the fourth kind"


@pytest.fixture
def clip(cast: Cast) -> Part:
    rows = [{"name": SECRET, "place": "crate 41"}]
    (made,) = add_parts(car=cast.car, rows=rows, by=None)
    finding = {"subject": made.part, "kind": "corrosion", "note": SECRET}
    add_observations(car=cast.car, table="findings", rows=[finding], by=None)
    return made


@pytest.fixture
def box() -> Place:
    return add_place(name="crate 41", kind="box", by=None)


def bomb(side: int = 60_000) -> bytes:
    """A PNG of few bytes that claims 3,600 million pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        checked = kind + data
        return struct.pack(">I", len(data)) + checked + struct.pack(">I", zlib.crc32(checked))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0))
    return (
        b"\x89PNG\r\n\x1a\n"
        + head
        + chunk(b"IDAT", zlib.compress(bytes(1_000_000)))
        + chunk(b"IEND", b"")
    )


def upload(name: str, data: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/png")


def shelf() -> set[Path]:
    return {path for path in shelf_folder().rglob("*") if path.is_file()}


def test_a_bomb_among_photographs_is_named_and_the_rest_is_kept(cast: Cast) -> None:
    before = shelf()
    files = [upload("bomb.png", bomb()), upload("good.jpg", jpeg(40))]
    answer = cast.craft.post(
        reverse("add-photos", args=(cast.car.slug,)),
        {"subject": "car", "view": "whole", "stage": "before", "sent": files},
    )
    assert answer.status_code == 422
    assert "bomb.png" in (page := answer.content.decode())
    assert "million pixels" in page
    (kept,) = cast.car.photos.all()
    assert [path.parent.name + path.name for path in shelf() - before] == [kept.sha256]


def test_a_part_with_a_bomb_is_asked_back_whole(cast: Cast) -> None:
    before = shelf()
    fields = {"name": "washer", "place": "crate 41", "photo": upload("bomb.png", bomb())}
    answer = cast.craft.post(reverse("add-part", args=(cast.car.slug,)), fields)
    assert answer.status_code == 422
    assert "million pixels" in answer.content.decode()
    assert 'value="washer"' in answer.content.decode(), "what was typed is still there"
    assert not cast.car.parts.filter(name="washer").exists()
    assert shelf() == before


@pytest.mark.parametrize(
    "code",
    [
        "WIFI:S:workshop;T:WPA;P:secret;;",
        "BEGIN:VCARD\nFN:Somebody\nEND:VCARD",
        "https://elsewhere.example/t/",
        "https://elsewhere.example/shop?item=7",
        "4006381333931",
        "x" * 2_900,
        "' OR 1=1 --",
        "",
    ],
)
def test_a_code_of_something_else_is_nothing_and_moves_nothing(
    cast: Cast, clip: Part, box: Place, code: str
) -> None:
    told = cast.craft.get(reverse("what-is"), {"tag": code}).json()
    assert told["kind"] == ""
    assert len(told["tag"]) <= 60
    if code:
        tags = f"{clip.tag}\n{code}"
        answer = cast.craft.post(reverse("scan"), {"tags": tags, "place": box.tag})
        assert answer.status_code == 409
        assert b"Nothing was moved" in answer.content
    clip.refresh_from_db()
    assert clip.place == "crate 41"


def test_a_code_that_no_database_keeps_is_refused(cast: Cast) -> None:
    assert cast.craft.get(reverse("what-is"), {"tag": "A\0B"}).status_code == 400


def test_two_people_move_one_part_and_both_are_told_where_it_is(cast: Cast, clip: Part) -> None:
    page = reverse("part", args=(cast.car.slug, clip.part))
    for client in (cast.craft, cast.head):  # both have the page open before either moves it
        assert client.get(page).status_code == 200
    for client, place in ((cast.craft, "box 7"), (cast.head, "box 9")):
        answer = client.post(f"{page}move/", {"to_place": place, "note": ""}, follow=True)
        assert f"is now in {place}" in answer.content.decode()
    moves = [m.cells for m in cast.car.observations.filter(table="moves").order_by("position")]
    assert [(m["from_place"], m["to_place"], m["by"]) for m in moves[-2:]] == [
        ("crate 41", "box 7", "trimmer"),
        ("box 7", "box 9", "head"),
    ]
    assert check_chain().broken is None


def test_a_part_that_somebody_withdrew_meanwhile_is_not_moved(cast: Cast, clip: Part) -> None:
    page = reverse("part", args=(cast.car.slug, clip.part))
    withdraw_part(part=clip, reason="entered twice", by=None)
    answer = cast.craft.post(f"{page}move/", {"to_place": "box 7", "note": ""})
    assert answer.status_code == 409
    assert "still there" in answer.content.decode()
    clip.refresh_from_db()
    assert clip.place == "crate 41"


@pytest.fixture
def neighbour(cast: Cast, account) -> Client:
    """Owner of another car, all of which is released to them."""
    other: Car = load_car(folder=small_car(), by=None, slug="other")
    person: Person = account("neighbour", "owner")
    grant_owner(car=other, owner=person, by=None)
    for room in OwnersRoom.values:
        release_room(car=other, room=room, by=None)
    client = Client()
    client.force_login(person.user)
    return client


def addresses(car: Car, clip: Part, box: Place) -> list[str]:
    """Every place where the part, its box or its photographs can be asked for."""
    names = ("car", "parts", "add-part", "photos", "add-photos", "wanted-photos", "log", "dossier")
    of_car = [reverse(name, args=(car.slug,)) for name in names]
    of_part = [reverse(name, args=(car.slug, clip.part)) for name in ("part", "edit-part")]
    searched = [f"{reverse('search')}?q=bulkhead", f"{reverse('search')}?q=corrosion"]
    tagged = [f"/t/{clip.tag}/", f"/t/{box.tag}/", f"{reverse('what-is')}?tag={clip.tag}"]
    places = [reverse("places"), reverse("place", args=(box.tag,)), reverse("scan")]
    return [*of_car, *of_part, *searched, *tagged, *places]


@pytest.mark.parametrize("who", ["stranger", "neighbour", "nobody"])
def test_nobody_sees_what_is_not_theirs(
    cast: Cast, clip: Part, box: Place, neighbour: Client, who: str
) -> None:
    client = neighbour if who == "neighbour" else getattr(cast, who)
    for address in addresses(cast.car, clip, box):
        answer = client.get(address)
        page = answer.content.decode()
        assert SECRET not in page, address
        assert box.name not in page, address
        searched = "search" in address and who != "nobody"
        assert answer.status_code in ((200,) if searched else (302, 403, 404)), address
        assert answer.headers.get("Location", "/sign-in/").startswith("/sign-in/"), address


@pytest.mark.parametrize("who", ["stranger", "neighbour", "nobody", "owner"])
def test_nobody_but_the_workshop_writes(
    cast: Cast, clip: Part, box: Place, neighbour: Client, who: str
) -> None:
    client = neighbour if who == "neighbour" else getattr(cast, who)
    lines_n = check_chain().lines_n
    part = (cast.car.slug, clip.part)
    for address, fields in (
        (reverse("move-part", args=part), {"to_place": "my garage"}),
        (reverse("end-part", args=part), {"what": "withdraw", "reason": "mine"}),
        (reverse("edit-part", args=part), {"name": "mine"}),
        (reverse("add-part", args=part[:1]), {"name": "mine"}),
        (reverse("scan"), {"tags": clip.tag, "place": box.tag}),
        (reverse("close-count", args=(box.tag,)), {"tags": clip.tag, "strays": "on"}),
        (reverse("places"), {"name": "my garage", "kind": "room"}),
        (reverse("put-place", args=(box.tag,)), {"what": "withdraw", "reason": "mine"}),
        (reverse("add-photos", args=part[:1]), {"sent": upload("a.jpg", jpeg(50))}),
    ):
        answer = client.post(address, fields)
        assert answer.status_code in (302, 403, 404), address
        assert answer.headers.get("Location", "/sign-in/").startswith("/sign-in/"), address
    clip.refresh_from_db()
    assert (clip.place, clip.name, clip.fate) == ("crate 41", SECRET, "")
    assert check_chain().lines_n == lines_n, "not a line was written"


def test_a_craftsperson_works_on_cars_and_rules_over_nobody(cast: Cast, clip: Part) -> None:
    assert cast.craft.get(reverse("part", args=(cast.car.slug, clip.part))).status_code == 200
    for name in ("people", "tablets"):
        assert cast.craft.get(reverse(name)).status_code in (403, 404), name
    assert cast.craft.get(reverse("car-owner", args=(cast.car.slug,))).status_code in (403, 404)
