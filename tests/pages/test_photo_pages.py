"""Photographs on the pages: sent in, seen by whom they may be seen by, sorted, marked, paired."""

from __future__ import annotations

import io
import json
from pathlib import Path

import numpy as np
import pytest
import segno
from django.core.cache import cache
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from PIL import ExifTags, Image
from scipy.ndimage import gaussian_filter
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car

from asfound.craft.photographs import OF_A_PART, OF_THE_CAR, WHOLE_CAR
from asfound.record.actions import add_parts, load_car, release_room, withdraw_release
from asfound.record.background.worker import StoppableWorker
from asfound.record.models import Part, Photo
from asfound.record.models.release import OwnersRoom
from asfound.record.shelf import place_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings) -> None:
    settings.ASFOUND_HOME = tmp_path


@pytest.fixture
def hinge(cast: Cast) -> Part:
    (made,) = add_parts(car=cast.car, rows=[{"name": "door hinge", "place": "box 4"}], by=None)
    return made


def url(cast: Cast, name: str, *more: str) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def jpeg(seed: int = 1, *, turn: float = 0.0, taken: str = "2031:05:04 10:22:31") -> bytes:
    """A made-up surface as a camera writes it, with the time and the place."""
    draw = np.random.default_rng(seed)
    rough = sum(gaussian_filter(draw.normal(size=(360, 480)), s) * s for s in (2, 5, 12))
    grey = ((rough - rough.min()) / np.ptp(rough) * 255).astype(np.uint8)
    image = Image.fromarray(grey).convert("RGB").rotate(turn)
    exif = Image.Exif()
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    place = exif.get_ifd(ExifTags.IFD.GPSInfo)
    place[ExifTags.GPS.GPSLatitudeRef], place[ExifTags.GPS.GPSLatitude] = "N", (51.0, 30.0, 0.0)
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif, quality=92)
    return out.getvalue()


def upload(name: str, data: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def send(cast: Cast, *files: SimpleUploadedFile, who: str = "craft", **fields: str):
    data = {"subject": "car", "view": "whole", "stage": "before", **fields, "sent": list(files)}
    return getattr(cast, who).post(url(cast, "add-photos"), data, headers=fields.pop("headers", {}))


def kept(cast: Cast, data: bytes, **fields: str) -> Photo:
    before = set(cast.car.photos.values_list("pk", flat=True))
    assert send(cast, upload("a.jpg", data), **fields).status_code == 302
    return cast.car.photos.exclude(pk__in=before).get()


def test_photographs_are_sent_in_once_and_their_bytes_stay(cast: Cast, hinge: Part) -> None:
    first, second = jpeg(1), jpeg(2)
    for _ in range(2):
        answer = send(cast, upload("a.jpg", first), upload("b.jpg", second), subject="door hinge")
        assert answer.status_code == 302
    rows = cast.car.photos.current()
    assert [row.subject for row in rows] == [hinge.part] * 2
    assert place_of(rows[0].sha256).read_bytes() == first
    assert rows[0].taken_at == "2031-05-04T10:22:31"
    page = cast.craft.get(url(cast, "photos"), {"subject": hinge.part}).content.decode()
    assert page.count('class="picture"') == 2
    assert "door hinge: whole, before" in page


def test_what_failed_is_told_by_name_and_the_rest_is_kept(cast: Cast) -> None:
    torn = jpeg(3)
    answer = send(
        cast,
        upload("good.jpg", jpeg(1)),
        upload("note.txt", b"no picture"),
        upload("torn.jpg", torn[: len(torn) // 2]),
    )
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<b>note.txt</b>" in page
    assert "<b>torn.jpg</b>" in page
    assert "breaks off" in page
    assert "The other 1 is kept" in page
    assert cast.car.photos.count() == 1


def test_a_batch_for_the_script_carries_its_part_on_to_the_next(cast: Cast, hinge: Part) -> None:
    out = io.BytesIO()
    segno.make_qr(f"http://bench/t/{hinge.tag}/", error="m").save(out, "png", scale=9, border=6)
    label = SimpleUploadedFile("IMG_9.png", out.getvalue())
    answer = cast.craft.post(
        url(cast, "add-photos"),
        {
            "subject": "car",
            "view": "detail",
            "stage": "before",
            "by_labels": "on",
            "sent": [upload("IMG_10.jpg", jpeg(4)), label, upload("x.jpg", b"torn")],
        },
        headers={"Accept": "application/json"},
    )
    told = answer.json()
    assert (told["subject"], told["labels_n"], len(told["kept"])) == (hinge.part, 1, 2)
    assert [fault["file"] for fault in told["faults"]] == ["x.jpg"]
    assert set(cast.car.photos.values_list("subject", flat=True)) == {hinge.part}


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"subject": "no such thing"}, "no part, panel or piece"),
        ({"view": ""}, "required"),
        ({"stage": "later"}, "valid choice"),
    ],
)
def test_what_cannot_be_sorted_is_asked_back(cast: Cast, fields: dict, told: str) -> None:
    answer = send(cast, upload("a.jpg", jpeg()), **fields)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not cast.car.photos.exists()


def test_too_large_a_file_is_told_and_not_read(cast: Cast, monkeypatch) -> None:
    monkeypatch.setattr("asfound.desk.photos.adding.MOST_BYTES", 1_000)
    page = send(cast, upload("huge.jpg", jpeg())).content.decode()
    assert "huge.jpg" in page
    assert not cast.car.photos.exists()


def test_pictures_carry_no_place_and_originals_are_the_workshop_s(cast: Cast) -> None:
    data = jpeg()
    photo = kept(cast, data)
    original = url(cast, "photo-original", photo.sha256)
    assert b"".join(cast.craft.get(original).streaming_content) == data
    assert cast.owner.get(original).status_code == 403
    for size in ("small", "large"):
        answer = cast.owner.get(url(cast, "photo-picture", photo.sha256, size))
        shown = b"".join(answer.streaming_content)
        assert Image.open(io.BytesIO(shown)).getexif() == {}
        assert b"Exif" not in shown
        assert "immutable" in answer["Cache-Control"]
        assert "private" in answer["Cache-Control"]
        again = cast.owner.get(
            url(cast, "photo-picture", photo.sha256, size),
            headers={"If-None-Match": answer["ETag"]},
        )
        assert again.status_code == 304
    assert cast.owner.get(url(cast, "photo-picture", photo.sha256, "huge")).status_code == 404


@pytest.mark.parametrize("who", ["stranger", "nobody"])
def test_photographs_are_not_shown_to_others(cast: Cast, who: str) -> None:
    photo = kept(cast, jpeg())
    refused = 404 if who == "stranger" else 302
    client = getattr(cast, who)
    for address in (
        url(cast, "photos"),
        url(cast, "wanted-photos"),
        url(cast, "photo", photo.sha256),
        url(cast, "photo-picture", photo.sha256, "small"),
        url(cast, "photo-original", photo.sha256),
        url(cast, "photo-laid", photo.sha256),
    ):
        assert client.get(address).status_code == refused


def test_an_owner_sees_what_is_released_and_changes_nothing(cast: Cast) -> None:
    photo = kept(cast, jpeg())
    page = cast.owner.get(url(cast, "photo", photo.sha256)).content.decode()
    assert "original, untouched" not in page
    assert "Withdraw" not in page
    assert cast.owner.get(url(cast, "add-photos")).status_code == 403
    for name in ("sort-photo", "mark-photo", "pair-photo", "withdraw-photo"):
        assert cast.owner.post(url(cast, name, photo.sha256), {"reason": "x"}).status_code == 403
    withdraw_release(car=cast.car, room=OwnersRoom.PARTS, reason="not yet", by=None)
    for name in ("photo", "photo-picture"):
        more = (photo.sha256, "small") if name == "photo-picture" else (photo.sha256,)
        assert cast.owner.get(url(cast, name, *more)).status_code == 403
    release_room(car=cast.car, room=OwnersRoom.PARTS, by=None)
    assert cast.owner.get(url(cast, "photo", photo.sha256)).status_code == 200


def test_a_photograph_of_another_car_is_not_found_under_this_one(cast: Cast) -> None:
    photo = kept(cast, jpeg())
    other = load_car(folder=small_car(), by=None, slug="other")
    address = reverse("photo-picture", args=(other.slug, photo.sha256, "small"))
    assert cast.head.get(address).status_code == 404


def test_it_is_sorted_anew_with_a_reason_and_two_at_once_are_told(cast: Cast, hinge: Part) -> None:
    photo = kept(cast, jpeg())
    sort = url(cast, "sort-photo", photo.sha256)
    asked = {"subject": hinge.part, "view": "marks", "stage": "before", "seen": str(photo.pk)}
    assert cast.craft.post(sort, asked).status_code == 422
    assert cast.craft.post(sort, {**asked, "reason": "it is the hinge"}).status_code == 302
    now = cast.car.photos.current().get()
    assert (now.subject, now.view) == (hinge.part, "marks")
    late = cast.head.post(sort, {**asked, "subject": "bonnet", "reason": "no, the bonnet"})
    assert late.status_code == 409
    page = cast.craft.get(url(cast, "photo", photo.sha256)).content.decode()
    assert "it is the hinge" in page


def test_a_withdrawn_photograph_is_shown_to_nobody_and_its_bytes_stay(cast: Cast) -> None:
    photo = kept(cast, jpeg())
    withdraw = url(cast, "withdraw-photo", photo.sha256)
    assert cast.craft.post(withdraw, {"reason": " "}).status_code == 422
    cast.craft.post(withdraw, {"reason": "a face is in it"})
    assert cast.owner.get(url(cast, "photo", photo.sha256)).status_code == 404
    picture = url(cast, "photo-picture", photo.sha256, "small")
    assert cast.head.get(picture).status_code == 404
    assert b"a face is in it" in cast.head.get(url(cast, "photo", photo.sha256)).content
    assert place_of(photo.sha256).exists()
    assert cast.head.get(url(cast, "photo", "0" * 64)).status_code == 404


def test_marks_are_kept_apart_from_the_photograph(cast: Cast) -> None:
    photo = kept(cast, data := jpeg())
    mark = url(cast, "mark-photo", photo.sha256)
    drawn = [{"kind": "arrow", "points": [[0.1, 0.2], [0.5, 0.6]], "words": "crack <b>here</b>"}]
    assert cast.craft.post(mark, {"marks": json.dumps(drawn)}).status_code == 302
    numbers = {"kind": "ring", "x1": "10", "y1": "20", "x2": "30,5", "y2": "40", "words": "rust"}
    assert cast.craft.post(mark, numbers).status_code == 302
    page = cast.owner.get(url(cast, "photo", photo.sha256)).content.decode()
    assert "crack &lt;b&gt;here" in page
    assert "mark-ring" in page
    now = cast.car.photos.current().get()
    assert json.loads(now.marks)[1]["points"] == [[0.1, 0.2], [0.305, 0.4]]
    assert place_of(photo.sha256).read_bytes() == data
    cast.craft.post(mark, {"away": "1"})
    assert [m["kind"] for m in json.loads(cast.car.photos.current().get().marks)] == ["ring"]


@pytest.mark.parametrize(
    "sent",
    [
        {"marks": '[{"kind": "arrow", "points": [[0, 0], [2, 1]]}]'},
        {"marks": "no list"},
        {"kind": "ring", "x1": "10", "y1": "", "x2": "30", "y2": "40"},
        {"kind": "words", "x1": "10", "y1": "10", "words": ""},
        {"kind": "star", "x1": "10", "y1": "10", "x2": "30", "y2": "40"},
    ],
)
def test_a_mark_that_cannot_be_drawn_is_refused(cast: Cast, sent: dict) -> None:
    photo = kept(cast, jpeg())
    answer = cast.craft.post(url(cast, "mark-photo", photo.sha256), sent)
    assert answer.status_code == 422
    assert cast.car.photos.current().get().marks == ""


def test_a_later_photograph_is_laid_over_an_earlier_one(cast: Cast, hinge: Part) -> None:
    before = kept(cast, jpeg(7), subject=hinge.part)
    after = kept(cast, jpeg(7, turn=2.0), subject=hinge.part, stage="after")
    offered = cast.craft.get(url(cast, "photo", after.sha256)).content.decode()
    assert f'value="{before.sha256}" checked' in offered
    cast.craft.post(url(cast, "pair-photo", after.sha256), {"earlier": before.sha256})
    page = cast.owner.get(url(cast, "photo", after.sha256)).content.decode()
    laid = url(cast, "photo-laid", after.sha256)
    assert laid in page
    fragment = cast.owner.get(laid, headers={"HX-Request": "true"}).content.decode()
    assert "data-wipe-hand" in fragment
    picture = reverse("laid-picture", args=(cast.car.slug, after.sha256, before.sha256, "after"))
    answer = cast.owner.get(picture)
    assert Image.open(io.BytesIO(b"".join(answer.streaming_content))).format == "JPEG"
    assert cast.stranger.get(picture).status_code == 404
    cast.craft.post(url(cast, "pair-photo", after.sha256), {"earlier": ""})
    assert cast.owner.get(picture).status_code == 404
    assert cast.owner.get(laid).status_code == 404


def test_a_first_pair_is_laid_beside_the_page(cast: Cast, worker: StoppableWorker) -> None:
    before, after = kept(cast, jpeg(9)), kept(cast, jpeg(9, turn=1.0), stage="after")
    cast.craft.post(url(cast, "pair-photo", after.sha256), {"earlier": before.sha256})
    laid, fragment = url(cast, "photo-laid", after.sha256), {"HX-Request": "true"}
    assert "Laying one over" in cast.owner.get(laid, headers=fragment).content.decode()
    asked = DBTaskResult.objects.get()
    worker.take(asked)
    assert "data-wipe-hand" in cast.owner.get(laid, headers=fragment).content.decode()
    cache.clear()
    assert "data-wipe-hand" in cast.owner.get(laid, headers=fragment).content.decode()
    assert not DBTaskResult.objects.exists()


def test_two_that_do_not_fit_stand_side_by_side(cast: Cast) -> None:
    before, after = kept(cast, jpeg(7)), kept(cast, jpeg(8), stage="after")
    cast.craft.post(url(cast, "pair-photo", after.sha256), {"earlier": before.sha256})
    page = cast.owner.get(url(cast, "photo-laid", after.sha256)).content.decode()
    assert "too few points" in page
    assert page.count("<figure>") == 2


@pytest.mark.source(
    "AIC Guidelines for Practice: before, what is uncovered and covered again, after"
)
def test_the_views_that_the_published_rule_asks_for_are_on_the_list() -> None:
    ruled = {view.stage for view in OF_A_PART if view.basis == "published rule"}
    assert ruled == {"before", "during", "after"}


def test_what_is_missing_leads_to_where_it_is_sent_in(cast: Cast, hinge: Part) -> None:
    page = cast.craft.get(url(cast, "wanted-photos")).content.decode()
    assert "number%3A+chassis" in page
    preset = f"{url(cast, 'add-photos')}?subject={hinge.part}&amp;view=fixing+places"
    assert preset in page
    kept(cast, jpeg(), subject=hinge.part, view="Fixing places")
    kept(cast, jpeg(2), subject=WHOLE_CAR, view="front")
    page = cast.craft.get(url(cast, "wanted-photos")).content.decode()
    assert preset not in page
    assert f"{len(OF_THE_CAR) + 2 - 1} of {len(OF_THE_CAR) + 2} missing" in page
    form = cast.craft.get(url(cast, "add-photos"), {"view": "underside"}).content.decode()
    assert 'value="underside"' in form


def test_the_gallery_asks_the_database_no_more_for_more_photographs(
    cast: Cast, django_assert_max_num_queries
) -> None:
    for seed in range(6):
        kept(cast, jpeg(seed))
    with django_assert_max_num_queries(16):
        cast.craft.get(url(cast, "photos"))


def test_a_part_is_entered_with_its_photograph_and_sent_twice_is_there_once(cast: Cast) -> None:
    for _ in range(2):
        sent = {"name": "striker", "place": "box 4", "key": "k1", "photo": upload("a.jpg", jpeg())}
        assert cast.craft.post(url(cast, "add-part"), sent).status_code == 302
    part = cast.car.parts.get(name="striker")
    photo = cast.car.photos.get()
    assert (photo.subject, photo.view, photo.stage) == (part.part, "whole", "before")
    page = cast.craft.get(url(cast, "part", part.part)).content.decode()
    assert url(cast, "photo-picture", photo.sha256, "small") in page
    assert "fixing places, before" in page
    assert "whole, before</a>" not in page


def test_a_part_whose_photograph_is_none_is_asked_back_and_not_entered(cast: Cast) -> None:
    sent = {"name": "striker", "key": "k2", "photo": upload("a.jpg", b"no picture")}
    answer = cast.craft.post(url(cast, "add-part"), sent)
    assert answer.status_code == 422
    assert "a.jpg: it is not a photograph" in answer.content.decode()
    assert not cast.car.parts.filter(name="striker").exists()
    sent["photo"] = upload("a.jpg", jpeg())
    assert cast.craft.post(url(cast, "add-part"), sent).status_code == 302
    assert cast.car.photos.count() == 1


def test_a_panel_shows_its_photographs_to_whom_they_are_released(cast: Cast) -> None:
    photo = kept(cast, jpeg(), subject="bonnet", view="damage")
    small = url(cast, "photo-picture", photo.sha256, "small")
    panel = url(cast, "panel", "bonnet")
    assert small in cast.craft.get(panel).content.decode()
    assert small in cast.owner.get(panel).content.decode()
    withdraw_release(car=cast.car, room=OwnersRoom.PARTS, reason="not yet", by=None)
    assert small not in cast.owner.get(panel).content.decode()


def test_a_hundred_are_sent_by_the_form_alone(cast: Cast) -> None:
    data = [io.BytesIO() for _ in range(100)]
    for shade, out in enumerate(data):
        Image.new("RGB", (64, 48), (shade * 2, 90, 60)).save(out, "PNG")
    answer = send(cast, *(upload(f"{n}.png", out.getvalue()) for n, out in enumerate(data)))
    assert answer.status_code == 302
    page = cast.craft.get(url(cast, "photos")).content.decode()
    assert "100 photographs" in page
    assert page.count('class="picture"') == 48
    assert "page=2" in page


def test_a_withdrawal_that_was_a_slip_is_taken_back(cast: Cast) -> None:
    photo = kept(cast, data := jpeg())
    withdraw = url(cast, "withdraw-photo", photo.sha256)
    page = cast.craft.post(withdraw, {"reason": "slip"}, follow=True).content.decode()
    undo = url(cast, "undo", "photo", photo.pk)
    assert undo in page
    assert cast.owner.post(undo).status_code == 403
    cast.craft.post(undo)
    assert cast.owner.get(url(cast, "photo", photo.sha256)).status_code == 200
    cast.craft.post(withdraw, {"reason": "once more"})
    again = kept(cast, data, view="damage")
    assert cast.craft.post(undo).status_code == 409
    assert [row.pk for row in cast.car.photos.current()] == [again.pk]


def test_photographs_of_one_thing_lead_from_one_to_the_next(cast: Cast, hinge: Part) -> None:
    first, _, third = (
        kept(cast, jpeg(seed), subject=subject)
        for seed, subject in ((1, hinge.part), (2, "car"), (3, hinge.part))
    )
    page = cast.owner.get(url(cast, "photo", first.sha256)).content.decode()
    assert f'rel="next" href="{url(cast, "photo", third.sha256)}"' in page
    assert 'rel="prev"' not in page


def test_what_the_record_had_already_stays_with_its_thing_and_is_told(
    cast: Cast, hinge: Part
) -> None:
    data = jpeg()
    kept(cast, data, subject=hinge.part)
    sent = {"subject": "car", "view": "whole", "stage": "before", "sent": upload("b.jpg", data)}
    page = cast.craft.post(url(cast, "add-photos"), sent, follow=True).content.decode()
    assert "the record had already" in page
    sent = {"name": "striker", "key": "k3", "photo": upload("c.jpg", data)}
    page = cast.craft.post(url(cast, "add-part"), sent, follow=True).content.decode()
    assert f"stays with {hinge.part}" in page
    assert cast.car.photos.current().get().subject == hinge.part


def test_a_phone_s_heic_is_kept_and_shown_as_jpeg(cast: Cast) -> None:
    data = (Path(__file__).parents[1] / "unit/exchange/data/made-up.heic").read_bytes()
    photo = kept(cast, data)
    assert photo.file.endswith(".heic")
    shown = cast.owner.get(url(cast, "photo-picture", photo.sha256, "large"))
    assert Image.open(io.BytesIO(b"".join(shown.streaming_content))).size == (128, 96)
    original = cast.head.get(url(cast, "photo-original", photo.sha256))
    assert original["Content-Type"] == "image/heic"
    assert b"".join(original.streaming_content) == data


@pytest.mark.parametrize("name", ["add-part", "add-finding", "add-salvage"])
def test_where_a_photograph_is_taken_a_scale_and_a_grey_card_are_asked_for(
    cast: Cast, name: str
) -> None:
    car = () if name == "add-salvage" else (cast.car.slug,)
    address = reverse(name, args=car) + ("?subject=bonnet" if name == "add-finding" else "")
    page = cast.craft.get(address).content.decode()
    assert "a scale and a grey card beside it" in page


def test_a_later_photograph_shows_where_the_first_was_taken_from(cast: Cast) -> None:
    """What is missing leads here with the view; the first of that view stands above the form."""
    told = {"subject": "door left", "view": "whole"}
    first = kept(cast, jpeg(5), **told)
    page = cast.craft.get(url(cast, "add-photos"), {**told, "stage": "after"}).content.decode()
    assert "Stand where this was taken from" in page
    assert reverse("photo", args=(cast.car.slug, first.sha256)) in page
    for other in ({**told, "stage": "before"}, {**told, "view": "marks", "stage": "after"}, {}):
        page = cast.craft.get(url(cast, "add-photos"), other).content.decode()
        assert "Stand where this was taken from" not in page
