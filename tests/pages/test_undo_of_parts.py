"""Undo from the message that tells it: parts, places, photographs."""

from __future__ import annotations

import io
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, add_place, move_parts
from asfound.record.log import check_chain
from asfound.record.models import Part, Photo, Place

pytestmark = pytest.mark.django_db


@pytest.fixture
def hinge(cast: Cast) -> Part:
    (made,) = add_parts(car=cast.car, rows=[{"name": "door hinge", "place": "box 4"}], by=None)
    return made


def url(cast: Cast, name: str, *more: str) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def do(cast: Cast, address: str, sent: dict) -> str:
    """Address of the undo that the page after an act offers."""
    page = cast.craft.post(address, sent, follow=True).content.decode()
    offered = re.findall(r'action="([^"]*/undo/[^"]+|/undo/[^"]+)"', page)
    assert len(offered) == 1, page
    return offered[0]


def test_a_move_is_taken_back_once(cast: Cast, hinge: Part) -> None:
    undo = do(cast, url(cast, "move-part", hinge.part), {"to_place": "shelf 9"})
    page = cast.craft.post(undo, follow=True).content.decode()
    assert "lies where it lay before" in page
    hinge.refresh_from_db()
    assert hinge.place == "box 4"
    moves = cast.car.observations.filter(table="moves", subject=hinge.part)
    assert [m.counts for m in moves] == [True, False]
    assert cast.craft.post(undo).status_code == 409


def test_a_move_before_the_latest_is_not_taken_back(cast: Cast, hinge: Part) -> None:
    undo = do(cast, url(cast, "move-part", hinge.part), {"to_place": "shelf 9"})
    hinge.refresh_from_db()
    move_parts(parts=[hinge], to_place="bay 1", by=None)
    assert cast.craft.post(undo).status_code == 409
    hinge.refresh_from_db()
    assert hinge.place == "bay 1"


def test_a_change_is_taken_back_unless_somebody_changed_more(cast: Cast, hinge: Part) -> None:
    sent = {"name": "upper hinge", "seen.name": "door hinge"}
    undo = do(cast, url(cast, "edit-part", hinge.part), sent)
    cast.craft.post(undo)
    hinge.refresh_from_db()
    assert hinge.name == "door hinge"
    undo = do(cast, url(cast, "edit-part", hinge.part), sent)
    again = {"name": "lower hinge", "seen.name": "upper hinge"}
    cast.head.post(url(cast, "edit-part", hinge.part), again)
    assert cast.craft.post(undo).status_code == 409
    hinge.refresh_from_db()
    assert hinge.name == "lower hinge"


@pytest.mark.parametrize(
    ("what", "names"), [("split", "leaf\npin"), ("replace", "new hinge"), ("withdraw", "")]
)
def test_a_part_that_was_ended_is_there_again(
    cast: Cast, hinge: Part, what: str, names: str
) -> None:
    sent = {"what": what, "names": names, "reason": "slip"}
    undo = do(cast, url(cast, "end-part", hinge.part), sent)
    cast.craft.post(undo)
    hinge.refresh_from_db()
    assert (hinge.fate, hinge.followed_by) == ("", "")
    assert [part.name for part in cast.car.parts.current()] == ["door hinge"]
    assert cast.craft.post(undo).status_code == 409
    assert check_chain().broken is None


def test_merged_parts_come_back_together(cast: Cast, hinge: Part) -> None:
    (pin,) = add_parts(car=cast.car, rows=[{"name": "pin"}], by=None)
    sent = {"numbers": pin.part, "name": "hinge with pin", "reason": "pressed in"}
    undo = do(cast, url(cast, "merge-part", hinge.part), sent)
    cast.craft.post(undo)
    assert {part.name for part in cast.car.parts.current()} == {"door hinge", "pin"}


def test_what_was_worked_with_since_stays(cast: Cast, hinge: Part) -> None:
    sent = {"what": "split", "names": "leaf\npin", "reason": "slip"}
    undo = do(cast, url(cast, "end-part", hinge.part), sent)
    pin = cast.car.parts.get(name="pin")
    move_parts(parts=[pin], to_place="shelf 1", by=None)
    answer = cast.craft.post(undo)
    assert answer.status_code == 409
    assert b"was worked with since" in answer.content
    hinge.refresh_from_db()
    assert hinge.fate == "split"


def test_a_place_that_was_moved_or_withdrawn_is_back(cast: Cast) -> None:
    room = add_place(name="store", kind="room", by=None)
    loft = add_place(name="loft", kind="room", by=None)
    box = add_place(name="box 4", kind="box", within=room, by=None)
    put = reverse("put-place", args=(box.tag,))
    undo = do(cast, put, {"within": loft.tag})
    cast.craft.post(undo)
    box.refresh_from_db()
    assert box.within == room
    assert cast.craft.post(undo).status_code == 409
    undo = do(cast, put, {"what": "withdraw", "reason": "broken"})
    assert Place.objects.get(name="box 4").withdrawn_reason == "broken"
    cast.craft.post(undo)
    box.refresh_from_db()
    assert (box.withdrawn_at, box.withdrawn_reason) == (None, "")
    undo = do(cast, put, {"what": "withdraw", "reason": "broken"})
    cast.craft.post(reverse("put-place", args=(room.tag,)), {"what": "withdraw", "reason": "x"})
    assert cast.craft.post(undo).status_code == 409


def test_a_photograph_stands_as_it_did_before(cast: Cast, hinge: Part) -> None:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (20, 80, 30)).save(out, "PNG")
    file = SimpleUploadedFile("a.png", out.getvalue())
    sent = {"subject": hinge.part, "view": "whole", "stage": "before", "sent": file}
    cast.craft.post(url(cast, "add-photos"), sent)
    photo = Photo.objects.current().get(car=cast.car)
    sort = {"subject": "car", "view": "front", "stage": "after", "reason": "wrong part"}
    undo = do(cast, url(cast, "sort-photo", photo.sha256), sort)
    cast.craft.post(undo)
    now = Photo.objects.current().get(car=cast.car)
    assert (now.subject, now.view, now.stage) == (hinge.part, "whole", "before")
    assert Photo.objects.filter(car=cast.car).count() == 3
    assert cast.craft.post(undo).status_code == 409


def test_who_may_not_write_takes_nothing_back(cast: Cast, hinge: Part) -> None:
    undo = do(cast, url(cast, "move-part", hinge.part), {"to_place": "shelf 9"})
    assert cast.owner.post(undo).status_code == 403
    assert cast.stranger.post(undo).status_code == 404
    room = add_place(name="store", kind="room", by=None)
    shared = do(
        cast, reverse("put-place", args=(room.tag,)), {"what": "withdraw", "reason": "gone"}
    )
    assert [c.post(shared).status_code for c in (cast.owner, cast.stranger)] == [403, 403]
    assert cast.nobody.post(shared).status_code == 302
    assert cast.head.get(shared).status_code == 405
    wrong = shared.replace("/place/", "/kitchen/")
    assert cast.head.post(wrong).status_code == 404
    assert Place.objects.get(name="store").withdrawn_at is not None
