"""Findings on the pages: entered, corrected, withdrawn, opinions apart, shown to whom they may."""

from __future__ import annotations

import io
import json

import pikepdf
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from PIL import Image
from tests.pages.conftest import Cast

from asfound.exchange.photographs import take_in
from asfound.record.actions import (
    add_observations,
    add_parts,
    correct_observation,
    withdraw_observation,
    withdraw_release,
)
from asfound.record.background.worker import StoppableWorker
from asfound.record.log import check_chain
from asfound.record.models import FindingKind, Observation, Part, Photo
from asfound.record.models.release import OwnersRoom
from asfound.record.shelf import place_of

pytestmark = pytest.mark.django_db

RUST = {"kind": "surface rust", "extent": "along the edge", "severity": "2", "key": "k1"}
ROW = {
    "subject": "door left",
    "kind": "dent",
    "extent": "a spot",
    "severity": "1",
    "x_mm": "200",
    "y_mm": "300",
    "found_by": "trimmer",
    "found_on": "2031-05-04",
}


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings) -> None:
    settings.ASFOUND_HOME = tmp_path


@pytest.fixture
def seat(cast: Cast) -> Part:
    (made,) = add_parts(car=cast.car, rows=[{"name": "driver's seat", "place": "rack 2"}], by=None)
    return made


def url(cast: Cast, name: str, *more: str | int) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def jpeg(shade: int = 90) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (160, 120), (shade, 80, 60)).save(out, "JPEG")
    return out.getvalue()


def upload(data: bytes, name: str = "a.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def photo_of(cast: Cast, subject: str = "door left") -> Photo:
    told = {"subject": subject, "view": "whole", "stage": "before"}
    return take_in([("a.jpg", io.BytesIO(jpeg()))], car=cast.car, by=None, **told).photos[0]


def there(cast: Cast, **cells: str) -> Observation:
    row = {**ROW, **cells}
    (made,) = add_observations(car=cast.car, table="findings", rows=[row], by=None)
    return made


def enter(cast: Cast, subject: str, *, who: str = "craft", headers: dict | None = None, **fields):
    address = f"{url(cast, 'add-finding')}?subject={subject}"
    return getattr(cast, who).post(address, {**RUST, **fields}, headers=headers or {})


def kept(cast: Cast) -> Observation:
    return cast.car.observations.current().get(table="findings")


def test_a_finding_on_a_panel_is_kept_once_with_who_and_when(cast: Cast) -> None:
    who = {"found_by": "trimmer", "found_on": "2031-05-04"}
    for _ in range(2):
        answer = enter(cast, "door left", x_mm="250", y_mm="310", **who)
        assert answer.status_code == 302
    found = kept(cast)
    assert (found.subject, found.entered_by.get_username()) == ("door left", "trimmer")
    typed = {name: RUST[name] for name in ("kind", "extent", "severity")}
    assert found.cells.items() >= {**typed, **who, "x_mm": "250", "y_mm": "310"}.items()
    page = cast.craft.get(answer["Location"]).content.decode()
    assert "Kept on door left: surface rust, along the edge, moderate (2 of 4)." in page
    assert 'class="finding-mark"' in page
    assert check_chain().broken is None


def test_without_a_date_typed_the_form_offers_today_and_who_is_signed_in(cast: Cast) -> None:
    form = cast.craft.get(f"{url(cast, 'add-finding')}?subject=bonnet").context["form"]
    assert form.initial["found_by"] == "trimmer"
    assert len(form.initial["found_on"]) == 10


def test_an_outline_gives_the_place_and_the_extent_where_they_are_empty(cast: Cast) -> None:
    outline = "POLYGON ((100 100, 160 100, 160 125, 100 125, 100 100))"
    enter(cast, "door left", extent="", outline_wkt=outline)
    cells = kept(cast).cells
    assert cells["extent"] == "15 cm² outlined"
    assert 100 < float(cells["x_mm"]) < 160
    assert cells["outline_wkt"] == outline


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"kind": ""}, "kind is empty"),
        ({"severity": ""}, "How grave is it?"),
        ({"severity": "5"}, "valid choice"),
        ({"extent": ""}, "How far does it go?"),
        ({"x_mm": "200"}, "both x and y"),
        ({"x_mm": "5000", "y_mm": "100"}, "off the panel"),
        ({"x_mm": "far", "y_mm": "100"}, "x is “far”"),
        ({"outline_wkt": "POLYGON ((0 0, 90 90, 90 0, 0 90, 0 0))"}, "cross itself"),
        ({"outline_wkt": "POLYGON ((0 0, 9000 0, 9000 60, 0 0))"}, "off the panel"),
        ({"left": "120", "top": "10"}, "0 to 100 per cent"),
        ({"left": "some"}, "0 to 100 per cent"),
    ],
)
def test_what_breaks_a_rule_is_asked_back_and_nothing_is_written(
    cast: Cast, fields: dict, told: str
) -> None:
    answer = enter(cast, "door left", **fields)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not cast.car.observations.exists()


def test_a_photograph_just_taken_is_kept_untouched_with_the_mark_over_it(
    cast: Cast, seat: Part
) -> None:
    data = jpeg(140)
    enter(cast, seat.part, photo=upload(data), left="20", top="30", right="50", bottom="70")
    found, photo = kept(cast), cast.car.photos.get()
    assert (photo.subject, photo.view) == (seat.part, "damage")
    assert place_of(photo.sha256).read_bytes() == data
    assert found.cells["photo"] == photo.file
    (mark,) = json.loads(found.cells["photo_marks"])
    assert mark == {"kind": "ring", "points": [[0.2, 0.3], [0.5, 0.7]], "words": ""}
    page = cast.craft.get(url(cast, "photo", photo.sha256)).content.decode()
    assert 'class="finding-marks"' in page
    assert url(cast, "finding", found.pk) in page


def test_what_is_no_photograph_is_told_and_nothing_is_written(cast: Cast, seat: Part) -> None:
    answer = enter(cast, seat.part, photo=upload(b"torn", "IMG_1.jpg"))
    assert answer.status_code == 422
    assert "IMG_1.jpg" in answer.content.decode()
    assert not cast.car.observations.filter(table="findings").exists()
    assert not cast.car.photos.exists()


def test_a_finding_is_entered_on_a_photograph_that_the_record_has(cast: Cast) -> None:
    photo = photo_of(cast)
    address = f"{url(cast, 'add-finding')}?photo={photo.sha256}"
    page = cast.craft.get(address).content.decode()
    assert "A finding on door left" in page
    cast.craft.post(address, {**RUST, "on_photo": photo.sha256, "left": "50", "top": "50"})
    found = kept(cast)
    assert (found.subject, found.cells["photo"]) == ("door left", photo.file)
    (mark,) = json.loads(found.cells["photo_marks"])
    assert mark["points"] == [[0.44, 0.44], [0.56, 0.56]]


def test_a_photograph_of_the_whole_car_asks_what_the_finding_is_on(cast: Cast) -> None:
    photo = photo_of(cast, "car")
    page = cast.craft.get(f"{url(cast, 'add-finding')}?photo={photo.sha256}").content.decode()
    assert "What is it on?" in page
    assert f"subject=bonnet&amp;photo={photo.sha256}" in page


def test_a_part_is_found_by_its_name_and_an_odd_one_is_asked_back(cast: Cast, seat: Part) -> None:
    to = cast.craft.get(f"{url(cast, 'add-finding')}?subject=driver's seat")
    assert to.status_code == 302
    assert f"subject={seat.part}" in to["Location"]
    odd = cast.craft.get(f"{url(cast, 'add-finding')}?subject=nowhere").content.decode()
    assert "no part or panel called “nowhere”" in odd


def test_a_script_is_answered_where_to_go_or_what_is_wrong(cast: Cast) -> None:
    as_script = {"Accept": "application/json"}
    good = enter(cast, "bonnet", headers=as_script)
    assert url(cast, "add-finding") in good.json()["next"]
    bad = enter(cast, "bonnet", headers=as_script, kind="", key="k2")
    assert bad.status_code == 422
    assert any("kind is empty" in told for told in bad.json()["faults"])


def test_the_page_keeps_observation_and_opinion_apart(cast: Cast) -> None:
    row = there(cast, note="paint whole")
    address = url(cast, "finding-opinion", row.pk)
    said = {"opinion": "a door was opened against it", "active": "no", "advice": "leave it"}
    answer = cast.head.post(address, said)
    found = kept(cast)
    assert found.cells.items() >= {**ROW, **said, "opinion_by": "head"}.items()
    page = cast.craft.get(answer["Location"]).content.decode()
    observed, opinion = page.split('id="opinion-head"')
    assert "a door was opened against it" not in observed
    assert "paint whole" in observed
    assert "head, " in opinion
    assert "at rest" in opinion
    assert "opinion given" in opinion


def test_an_opinion_is_taken_away_and_an_unchanged_one_writes_nothing(cast: Cast) -> None:
    row = there(cast, opinion="so", opinion_by="head", opinion_on="2031-05-05")
    same = cast.craft.post(url(cast, "finding-opinion", row.pk), {"opinion": "so"})
    assert same["Location"] == url(cast, "finding", row.pk)
    assert cast.car.observations.count() == 1
    cast.craft.post(url(cast, "finding-opinion", row.pk), {"opinion": ""})
    cells = kept(cast).cells
    assert not cells["opinion"]
    assert not cells["opinion_by"]


def test_a_correction_keeps_the_old_version_its_finder_and_the_opinion(cast: Cast) -> None:
    row = there(cast, opinion="so", opinion_by="head")
    address = url(cast, "correct-finding", row.pk)
    assert "Correct what was observed" in cast.craft.get(address).content.decode()
    fields = {**ROW, "kind": "crack", "severity": "3"}
    assert cast.craft.post(address, fields).status_code == 422
    answer = cast.craft.post(address, {**fields, "reason": "felt with a nail"})
    found = kept(cast)
    assert (found.cells["kind"], found.cells["opinion"]) == ("crack", "so")
    assert found.cells["found_by"] == "trimmer"
    page = cast.craft.get(answer["Location"]).content.decode()
    assert "felt with a nail" in page
    assert "what it is: dent → crack" in page
    old = cast.craft.get(url(cast, "finding", row.pk)).content.decode()
    assert "This is how it stood before." in old
    again = cast.craft.post(address, {**fields, "reason": "again"}, follow=True)
    assert "nothing was changed now" in again.content.decode()
    assert cast.car.observations.count() == 2


def test_a_withdrawn_finding_is_kept_and_can_be_taken_back(cast: Cast) -> None:
    row = there(cast)
    address = url(cast, "withdraw-finding", row.pk)
    assert cast.craft.post(address, {"reason": ""}).status_code == 422
    page = cast.craft.post(address, {"reason": "a shadow"}, follow=True).content.decode()
    assert "is withdrawn" in page
    assert not cast.car.observations.current().exists()
    assert "Withdrawn: a shadow" in cast.craft.get(url(cast, "finding", row.pk)).content.decode()
    undo = reverse("undo", args=(cast.car.slug, "observation", row.pk))
    assert "The finding stands again." in cast.craft.post(undo, follow=True).content.decode()
    assert kept(cast).pk == row.pk


def test_a_second_photograph_stays_with_the_finding_and_not_twice(cast: Cast) -> None:
    row = there(cast, photo=photo_of(cast).file)
    for _ in range(2):
        now = kept(cast)
        cast.craft.post(url(cast, "finding-photo", now.pk), {"photo": upload(jpeg(20))})
    assert len(kept(cast).cells["photo"].split(";")) == 2
    assert cast.car.observations.count() == 2
    page = cast.craft.get(url(cast, "finding", kept(cast).pk)).content.decode()
    assert page.count('class="picture picture-large"') == 2
    wrong = cast.craft.post(url(cast, "finding-photo", kept(cast).pk), {"photo": upload(b"x")})
    assert wrong.status_code == 422
    assert row.pk != kept(cast).pk


def test_the_list_is_filtered_and_paged(cast: Cast, seat: Part) -> None:
    for n in range(55):
        there(cast, kind=f"dent {n:02d}")
    there(cast, subject=seat.part, kind="seam open", severity="4")
    first = cast.craft.get(url(cast, "findings")).content.decode()
    assert "56 findings" in first
    assert "1 of 2" in first
    assert first.index("seam open") < first.index("dent 00")
    assert "survey-sheet" in first
    one = cast.craft.get(url(cast, "findings"), {"q": "seat"}, headers={"HX-Request": "true"})
    page = one.content.decode()
    assert "1 finding with “seat”" in page
    assert "<html" not in page
    grave = cast.craft.get(url(cast, "findings"), {"least": "3"}).content.decode()
    assert "1 finding" in grave
    second = cast.craft.get(url(cast, "findings"), {"page": "2"}).content.decode()
    assert ">51</span>" in second


def test_a_list_asks_the_database_no_more_for_many_than_for_few(
    cast: Cast, django_assert_max_num_queries
) -> None:
    for n in range(40):
        there(cast, kind=f"dent {n}")
    with django_assert_max_num_queries(22):
        assert cast.craft.get(url(cast, "findings")).status_code == 200


def test_a_finding_of_the_search_leads_to_the_condition_of_its_subject(
    cast: Cast, seat: Part
) -> None:
    row = there(cast, subject=seat.part, kind="seam open")
    page = cast.craft.get(reverse("search"), {"q": "seam"}).content.decode()
    to = f"{url(cast, 'finding-subject', seat.part)}#finding-{row.pk}"
    assert to in page
    condition = cast.craft.get(to.partition("#")[0]).content.decode()
    assert f'id="finding-{row.pk}"' in condition
    assert "Condition of driver&#x27;s seat" in condition


@pytest.mark.from_memory
def test_the_report_has_its_sections_in_the_order_of_the_standard(cast: Cast) -> None:
    """EN 16095 as remembered: identity, description, treatment, condition, assessment, advice."""
    there(cast, opinion="so", opinion_by="head", advice="leave it")
    for name, more in (("condition", ()), ("finding-subject", ("door left",))):
        page = cast.craft.get(url(cast, name, *more)).content.decode()
        heads = (
            *("Identification", "Purpose and examination", "Description", "Earlier treatment"),
            *("Condition as observed", "Assessment", "Recommendations", "Images"),
        )
        places = [page.index(f"{n} {head}</h2>") for n, head in enumerate(heads, start=1)]
        assert places == sorted(places)
        observed, assessed = page.split("6 Assessment</h2>")
        assert "<i>so</i>" not in observed
        assert "<i>so</i>" in assessed


def test_the_report_says_on_what_nothing_was_written(cast: Cast) -> None:
    there(cast)
    page = cast.craft.get(url(cast, "condition")).content.decode()
    assert "Nothing is written of: bonnet, scuttle" in page


@pytest.mark.parametrize("subject", ["", "door left"])
def test_the_report_comes_as_a_pdf_with_its_findings_attached(cast: Cast, subject: str) -> None:
    photo = photo_of(cast)
    ring = '[{"kind": "ring", "points": [[0.2, 0.2], [0.4, 0.5]], "words": ""}]'
    there(cast, photo=photo.file, photo_marks=ring)
    there(cast, subject="bonnet", kind="crack")
    name = url(cast, "condition-of-pdf", subject) if subject else url(cast, "condition-pdf")
    answer = cast.craft.get(name)
    assert answer["Content-Type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        (table,) = pdf.attachments.values()
        rows = table.get_file().read_bytes().decode().splitlines()
    assert len(rows) == (2 if subject else 3)


def test_the_report_of_the_whole_car_is_set_beside_its_page(
    cast: Cast, worker: StoppableWorker
) -> None:
    there(cast)
    made, fragment = url(cast, "condition-made"), {"HX-Request": "true"}
    assert made in cast.craft.get(url(cast, "condition")).content.decode()
    assert "Setting the pages" in cast.owner.get(made, headers=fragment).content.decode()
    assert "Setting the pages" in cast.craft.get(made, headers=fragment).content.decode()
    of_owner, of_craft = DBTaskResult.objects.order_by("enqueued_at")
    worker.take(of_craft)
    of_owner.delete()
    assert url(cast, "condition-pdf") in cast.craft.get(made, headers=fragment).content.decode()
    answer = cast.craft.get(url(cast, "condition-pdf"))
    assert answer.content.startswith(b"%PDF-")
    there(cast, kind="crack")
    page = cast.craft.get(made, headers=fragment).content.decode()
    assert "Setting the pages" in page, "what was written since makes another"


def test_an_owner_reads_what_counts_and_writes_nothing(cast: Cast) -> None:
    row = there(cast)
    new = correct_observation(
        observation=row, cells={"kind": "crack"}, reason="looked again", by=None
    )
    assert "looked again" not in cast.owner.get(url(cast, "finding", new.pk)).content.decode()
    assert cast.owner.get(url(cast, "finding", row.pk)).status_code == 404
    for name in ("findings", "condition", "condition-pdf"):
        assert cast.owner.get(url(cast, name)).status_code == 200
    assert "Earlier treatment" not in cast.owner.get(url(cast, "condition")).content.decode()
    for name in ("add-finding", "finding-kinds"):
        assert cast.owner.get(url(cast, name)).status_code == 403
    for name in ("correct-finding", "withdraw-finding", "finding-opinion", "finding-photo"):
        assert cast.owner.post(url(cast, name, new.pk), {"reason": "x"}).status_code == 403


def test_a_room_that_is_closed_shows_no_finding_anywhere(cast: Cast) -> None:
    row = there(cast)
    withdraw_release(car=cast.car, room=OwnersRoom.PARTS, reason="not yet", by=None)
    for name, more in (("findings", ()), ("finding", (row.pk,)), ("finding-subject", ("bonnet",))):
        assert cast.owner.get(url(cast, name, *more)).status_code == 403
    panel = cast.owner.get(url(cast, "panel", "door left")).content.decode()
    assert "finding-mark" not in panel
    assert "dent" not in panel
    assert "finding-mark" in cast.craft.get(url(cast, "panel", "door left")).content.decode()


@pytest.mark.parametrize(("who", "status"), [("stranger", 404), ("nobody", 302)])
def test_findings_are_not_shown_to_others(cast: Cast, who: str, status: int) -> None:
    row = there(cast)
    addresses = [
        *(url(cast, name) for name in ("findings", "add-finding", "condition", "condition-pdf")),
        url(cast, "finding", row.pk),
        url(cast, "finding-subject", "door left"),
        url(cast, "condition-of-pdf", "door left"),
    ]
    for address in addresses:
        assert getattr(cast, who).get(address).status_code == status


def test_what_is_not_there_is_not_found(cast: Cast) -> None:
    row = there(cast)
    withdraw_observation(observation=row, reason="no", by=None)
    assert cast.craft.get(url(cast, "finding", 4711)).status_code == 404
    assert cast.craft.get(url(cast, "finding-subject", "nowhere")).status_code == 404
    assert cast.craft.get(url(cast, "condition-of-pdf", "nowhere")).status_code == 404


def test_a_finding_that_can_hurt_someone_says_so_with_the_cautions(cast: Cast) -> None:
    row = there(cast, subject="bonnet", kind="brake hose cracked", severity="4")
    page = cast.craft.get(url(cast, "finding", row.pk)).content.decode()
    assert "Do not use it so." in page
    assert "sbestos" in page


def test_the_workshop_adds_a_word_of_its_own_and_takes_it_out(cast: Cast) -> None:
    address = url(cast, "finding-kinds")
    cast.craft.post(address, {"word": "piping worn", "group": "metal", "says": "edge through"})
    page = cast.craft.get(f"{url(cast, 'add-finding')}?subject=bonnet").content.decode()
    assert 'data-word="piping worn"' in page
    assert cast.craft.post(address, {"word": "Piping worn"}).status_code == 422
    kind = FindingKind.objects.get()
    cast.craft.post(url(cast, "withdraw-finding-kind", kind.pk), {"reason": ""})
    assert FindingKind.objects.current().exists()
    cast.craft.post(url(cast, "withdraw-finding-kind", kind.pk), {"reason": "double"})
    assert "double" in cast.craft.get(address).content.decode()


def test_findings_of_a_part_stand_on_its_page(cast: Cast, seat: Part) -> None:
    row = there(cast, subject=seat.part, kind="seam open")
    page = cast.craft.get(url(cast, "part", seat.part)).content.decode()
    assert url(cast, "finding", row.pk) in page
    assert url(cast, "finding-subject", seat.part) in page
