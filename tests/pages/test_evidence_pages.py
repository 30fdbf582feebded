"""The pages of evidence: ledger, balance, entry, numbers check, odometer; who may see them."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast
from tests.pages.test_findings_pages import jpeg

from asfound.record.actions import set_sheet, sheet_rows

ITEM = {
    "subject": "gearbox",
    "statement": "fitted when built",
    "alternative": "fitted later",
    "item": "works paint across the joint",
    "lr": "25",
    "basis": "experience",
    "cause": "paint",
}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def whole(cast: Cast, name: str, *rest: object) -> str:
    """Page in one piece, as a browser without scripts asks for it."""
    return f"{at(cast, name, *rest)}?whole=1"


def typed(**changes: str) -> dict[str, str]:
    pair = f"{ITEM['statement']} / {ITEM['alternative']}"
    names = ("subject", "item", "lr", "basis", "cause")
    return {**{name: ITEM[name] for name in names}, "pair": pair, "note": "", **changes}


@pytest.fixture
def weighed(cast: Cast) -> Cast:
    more = ITEM | {"item": "its edge is soft", "lr": "4"}
    set_sheet(car=cast.car, table="evidence", rows=[ITEM, more], by=None)
    return cast


def test_the_ledger_counts_panels_and_says_what_is_not_known(weighed: Cast) -> None:
    page = weighed.head.get(whole(weighed, "evidence")).content.decode()
    assert "The ledger as found" in page
    assert "not known" in page
    assert "support of 10 or more" in page


def test_a_piece_shows_its_balance_and_what_its_words_hang_on(weighed: Cast) -> None:
    page = weighed.head.get(whole(weighed, "evidence-of", "gearbox")).content.decode()
    assert "Moderate support for fitted when built." in page
    assert 'class="balance"' in page
    assert "Set aside: shares its cause with “works paint across the joint”" in page
    assert "If “works paint across the joint” said nothing" in page
    assert "ENFSI" in page


def test_the_page_answers_at_once_and_fills_in(weighed: Cast) -> None:
    page = weighed.head.get(at(weighed, "evidence")).content.decode()
    assert at(weighed, "evidence-ledger") in page
    assert "The ledger as found" not in page
    for name, rest in (("evidence-ledger", ()), ("claims-of", ("gearbox",))):
        address = at(weighed, name, *rest)
        fragment = weighed.head.get(address, HTTP_HX_REQUEST="true").content.decode()
        assert "<html" not in fragment
        assert "gearbox" in fragment or "ledger" in fragment
        assert weighed.head.get(address).url.endswith("?whole=1")
        assert weighed.stranger.get(address, HTTP_HX_REQUEST="true").status_code == 404


def test_a_panel_leads_to_the_readings_it_rests_on(cast: Cast) -> None:
    panel = "door left"
    page = cast.head.get(whole(cast, "evidence")).content.decode()
    assert at(cast, "evidence-of", panel) in page
    told = cast.head.get(whole(cast, "evidence-of", panel)).content.decode()
    assert at(cast, "panel", panel) in told
    assert "derived by the program" in told


def test_an_item_is_written_down_by_the_one_who_types_it(cast: Cast) -> None:
    answer = cast.craft.post(at(cast, "add-evidence"), typed(lr="1/20"))
    assert answer.url == at(cast, "evidence-of", "gearbox")
    cast.car.refresh_from_db()
    (row,) = sheet_rows(cast.car, "evidence")
    assert (row["lr"], row["by"], row["alternative"]) == ("0.05", "trimmer", "fitted later")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"lr": "0"}, "likelihood ratio must be above 0"),
        ({"lr": "much"}, "likelihood ratio must be a number"),
        ({"lr": "1/0"}, "likelihood ratio must be a number"),
        ({"pair": "fitted when built"}, "Write both"),
        ({"pair": "fitted later / Fitted later"}, "excludes the first"),
        ({"subject": ""}, "required"),
    ],
)
def test_what_cannot_be_weighed_is_not_written(
    cast: Cast, change: dict[str, str], words: str
) -> None:
    answer = cast.craft.post(at(cast, "add-evidence"), typed(**change))
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert sheet_rows(cast.car, "evidence") == []


def test_the_numbers_check_says_to_what(cast: Cast) -> None:
    mark = {
        "kind": "engine",
        "text_as_read": "M 16O7",
        "method": "stamped",
        "where": "pad",
        "expected": "M 1607",
        "expected_source": "works build sheet",
    }
    set_sheet(car=cast.car, table="identifiers", rows=[mark], by=None)
    given = {"code": "vehicle type", "class": "A", "edition": "2010"}
    set_sheet(car=cast.car, table="preservation_classes", rows=[given], by=None)
    page = cast.owner.get(at(cast, "numbers")).content.decode()
    assert "Consistent with the factory build record" in page
    assert "O may be 0" in page
    assert "edition 2010" in page
    told = json.loads(cast.head.get(at(cast, "numbers-json")).content)
    assert told["marks"][0]["verdict"] == "consistent"


def test_the_odometer_names_what_contradicts(cast: Cast) -> None:
    rows = [
        {"date": day, "reading": shown, "unit": "mile", "source": "book", "digits": "5"}
        for day, shown in (("1966-08-30", "41870"), ("1971-03-11", "38905"))
    ]
    set_sheet(car=cast.car, table="odometer", rows=rows, by=None)
    page = cast.owner.get(at(cast, "odometer")).content.decode()
    assert "These contradict" in page
    assert "1966-08-30: 41870 mile (book)" in page
    assert "the dial turned over once between" in page.replace("The dial", "the dial")
    told = json.loads(cast.head.get(at(cast, "odometer-json")).content)
    assert told["consistent"] is False


def test_nothing_written_down_says_so(cast: Cast) -> None:
    set_sheet(car=cast.car, table="identifiers", rows=[], by=None)
    assert "No number of this car" in cast.head.get(at(cast, "numbers")).content.decode()
    assert "No reading was written" in cast.head.get(at(cast, "odometer")).content.decode()
    assert cast.head.get(at(cast, "odometer-json")).status_code == 404
    assert cast.head.get(at(cast, "evidence-of", "no such piece")).status_code == 404


def test_who_may_look_and_who_may_write(weighed: Cast) -> None:
    for name in ("evidence", "numbers", "odometer", "evidence-json", "ledger-json"):
        assert weighed.owner.get(at(weighed, name)).status_code == 200
        assert weighed.stranger.get(at(weighed, name)).status_code == 404
        assert weighed.nobody.get(at(weighed, name)).status_code == 302
    assert weighed.owner.get(at(weighed, "add-evidence")).status_code == 403
    assert weighed.owner.post(at(weighed, "add-evidence"), typed()).status_code == 403
    assert (
        "Write down evidence" not in weighed.owner.get(whole(weighed, "evidence")).content.decode()
    )


def test_the_page_of_evidence_takes_few_queries(
    weighed: Cast, django_assert_max_num_queries: object
) -> None:
    weighed.head.get(whole(weighed, "evidence"))
    with django_assert_max_num_queries(40):  # type: ignore[operator]
        weighed.head.get(whole(weighed, "evidence"))


def test_a_number_is_written_down_with_its_photograph(cast: Cast) -> None:
    """The head's numbers page offers it; the row bears today and the reader's name."""
    typed = {"kind": "axle", "text_as_read": "AX 77", "method": "cast", "where": "nose of the case"}
    photo = SimpleUploadedFile("axle.jpg", jpeg(), content_type="image/jpeg")
    answer = cast.craft.post(at(cast, "add-number"), {**typed, "photo": photo, "step": "done"})
    assert answer.headers["Location"] == at(cast, "numbers")
    cast.car.refresh_from_db()
    row = sheet_rows(cast.car, "identifiers")[-1]
    assert {name: row[name] for name in typed} == typed
    assert row["read_by"] == "trimmer"
    assert row["read_on"] == timezone.localdate().isoformat()
    taken = cast.car.photos.get(file=row["photo"])
    assert (taken.subject, taken.view) == ("car", "number: axle")


def test_a_number_without_its_place_or_with_a_broken_photograph_writes_nothing(cast: Cast) -> None:
    before = sheet_rows(cast.car, "identifiers")
    typed = {"kind": "axle", "text_as_read": "AX 77", "method": "cast", "where": ""}
    answer = cast.craft.post(at(cast, "add-number"), typed)
    assert answer.status_code == 422
    broken = SimpleUploadedFile("axle.jpg", b"no picture", content_type="image/jpeg")
    answer = cast.craft.post(at(cast, "add-number"), {**typed, "where": "nose", "photo": broken})
    assert answer.status_code == 422
    assert "Nothing was written" in answer.content.decode()
    assert sheet_rows(cast.car, "identifiers") == before
    assert not cast.car.photos.exists()


def test_a_distance_is_written_down_and_the_next_may_follow(cast: Cast) -> None:
    typed = {"reading": "41870", "unit": "mile", "date": "1966-08-30", "source": "an invoice"}
    answer = cast.craft.post(at(cast, "add-miles"), {**typed, "step": "next"})
    assert answer.headers["Location"] == at(cast, "add-miles")
    cast.car.refresh_from_db()
    row = sheet_rows(cast.car, "odometer")[-1]
    assert {name: row[name] for name in typed} == typed
    answer = cast.craft.post(at(cast, "add-miles"), {**typed, "date": "last spring"})
    assert answer.status_code == 422
    assert len(sheet_rows(cast.car, "odometer")) == 1


def sent(cast: Cast, name: str, **typed: object):
    """As the script sends what waited on a device, and reads the answer."""
    return cast.craft.post(at(cast, name), typed, headers={"Accept": "application/json"})


def test_what_waited_on_a_phone_is_kept_once_with_the_day_it_was_read(cast: Cast) -> None:
    typed = {"kind": "axle", "text_as_read": "AX 77", "method": "cast", "where": "nose"}
    waited = {"key": "axle-once", "waited_s": str(2 * 24 * 3600), "step": "next"}
    for _ in range(2):
        photo = SimpleUploadedFile("axle.jpg", jpeg(), content_type="image/jpeg")
        answer = sent(cast, "add-number", **typed, **waited, photo=photo)
        assert answer.json() == {"next": at(cast, "add-number")}
    miles = {"reading": "41870", "unit": "mile", "date": "1966-08-30", "source": "an invoice"}
    for _ in range(2):
        answer = sent(cast, "add-miles", **miles, key="miles-once")
        assert answer.json() == {"next": at(cast, "odometer")}
    cast.car.refresh_from_db()
    (row,) = (r for r in sheet_rows(cast.car, "identifiers") if r["text_as_read"] == "AX 77")
    assert row["read_on"] == (timezone.localdate() - timedelta(days=2)).isoformat()
    assert row["photo"] == cast.car.photos.get().file
    assert [r["reading"] for r in sheet_rows(cast.car, "odometer")] == ["41870"]


def test_what_waited_and_breaks_a_rule_is_refused_and_may_come_again(cast: Cast) -> None:
    typed = {"reading": "41870", "unit": "mile", "source": "an invoice", "key": "again"}
    answer = sent(cast, "add-miles", **typed, date="last spring")
    assert answer.status_code == 422
    assert len(answer.json()["faults"]) == 1
    assert sent(cast, "add-miles", **typed, date="1966").status_code == 200
    broken = SimpleUploadedFile("axle.jpg", b"no picture", content_type="image/jpeg")
    number = {"kind": "axle", "text_as_read": "AX 77", "method": "cast", "where": "nose"}
    answer = sent(cast, "add-number", **number, key="broken", photo=broken)
    assert "Nothing was written" in answer.json()["faults"][0]
    assert not cast.car.arrivals.filter(key="broken").exists()


@pytest.mark.parametrize("name", ["add-number", "add-miles"])
def test_an_owner_writes_no_reading_and_a_stranger_finds_no_page(cast: Cast, name: str) -> None:
    assert cast.owner.get(at(cast, name)).status_code == 403
    assert cast.stranger.get(at(cast, name)).status_code == 404
