"""Rows of evidence, wear, numbers and odometer doubted one by one, and what they lead to."""

from __future__ import annotations

import json
import re

from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.standing import row_mark
from asfound.record.models import Photo

STRONG = {
    "subject": "gearbox",
    "statement": "fitted when built",
    "alternative": "fitted later",
    "item": "works paint across the joint",
    "lr": "25",
    "basis": "data",
    "cause": "paint",
}
WEAK = STRONG | {"item": "its bolts are of the first kind", "lr": "4", "cause": "bolts"}
MARK = {
    "kind": "engine",
    "text_as_read": "M 1607",
    "method": "stamped",
    "where": "pad",
    "expected": "M 1608",
    "expected_source": "works build sheet",
}
READINGS = [
    {"date": "1961-05-14", "reading": "24100", "unit": "mile", "source": "service card"},
    {"date": "1966-03-02", "reading": "61880", "unit": "mile", "source": "repair bill"},
    {"date": "1969-08-20", "reading": "48200", "unit": "mile", "source": "advertisement"},
]


def at(cast: Cast, table: str, row: dict[str, str]) -> str:
    return reverse("evidence-row", args=(cast.car.slug, table, row_mark(row)))


def keep(cast: Cast, table: str, *rows: dict[str, str]) -> None:
    set_sheet(car=cast.car, table=table, rows=rows, by=None)


def page(cast: Cast, name: str, *rest: str) -> str:
    address = reverse(name, args=(cast.car.slug, *rest))
    return cast.head.get(f"{address}?whole=1").content.decode()


def test_a_doubted_item_stays_and_counts_no_more(cast: Cast) -> None:
    keep(cast, "evidence", STRONG, WEAK)
    assert at(cast, "evidence", STRONG) in page(cast, "evidence-of", "gearbox")
    look = cast.craft.get(at(cast, "evidence", STRONG)).content.decode()
    assert "ratio 100" in look
    assert "ratio 4" in look
    answer = cast.craft.post(
        at(cast, "evidence", STRONG), {"standing": "doubted", "why": "the joint was cleaned"}
    )
    assert answer.url == reverse("evidence-of", args=(cast.car.slug, "gearbox"))
    told = page(cast, "evidence-of", "gearbox")
    assert "Ratio 4." in told
    assert "doubted: the joint was cleaned" in told
    cast.car.refresh_from_db()
    assert [row["lr"] for row in sheet_rows(cast.car, "evidence")] == ["25", "4"]
    entry = cast.car.entries.order_by("-pk").first()
    assert entry is not None
    assert (entry.action, str(entry.by)) == ("set evidence", "trimmer")
    cast.craft.post(at(cast, "evidence", STRONG), {"standing": "holds", "why": ""})
    assert "Ratio 100." in page(cast, "evidence-of", "gearbox")


def test_without_a_reason_nothing_is_doubted(cast: Cast) -> None:
    keep(cast, "evidence", STRONG)
    answer = cast.craft.post(at(cast, "evidence", STRONG), {"standing": "withdrawn", "why": ""})
    assert answer.status_code == 422
    assert sheet_rows(cast.car, "evidence")[0].get("standing", "") == ""


def test_an_item_that_another_is_given_is_not_doubted_alone(cast: Cast) -> None:
    given = WEAK | {"cause": "paint", "given": STRONG["item"]}
    keep(cast, "evidence", STRONG, given)
    answer = cast.craft.post(
        at(cast, "evidence", STRONG), {"standing": "doubted", "why": "cleaned"}
    )
    assert answer.status_code == 422
    assert "Then the rest could not be weighed" in answer.content.decode()


def test_a_withdrawn_reading_of_the_odometer_ends_the_clash(cast: Cast) -> None:
    keep(cast, "odometer", *READINGS)
    before = page(cast, "odometer")
    assert "These contradict" in before
    assert before.count(at(cast, "odometer", READINGS[2])) == 2  # with the clash, and by date
    look = cast.head.get(at(cast, "odometer", READINGS[2])).content.decode()
    assert "clashes: 0" in look
    cast.head.post(
        at(cast, "odometer", READINGS[2]), {"standing": "withdrawn", "why": "a misprint"}
    )
    after = page(cast, "odometer")
    assert "These contradict" not in after
    assert "withdrawn: a misprint" in after


def test_a_doubted_number_leaves_the_check(cast: Cast) -> None:
    keep(cast, "identifiers", MARK)
    assert "Conflict" in page(cast, "numbers")
    cast.head.post(at(cast, "identifiers", MARK), {"standing": "doubted", "why": "misread"})
    after = page(cast, "numbers")
    assert "Conflict" not in after
    assert "doubted: misread" in after


def test_who_may_not_write_or_see_changes_nothing(cast: Cast) -> None:
    keep(cast, "evidence", STRONG)
    typed = {"standing": "withdrawn", "why": "no"}
    address = at(cast, "evidence", STRONG)
    assert cast.stranger.get(address).status_code == 404
    assert cast.owner.post(address, typed).status_code == 403
    assert '<form method="post" class="sheet' not in cast.owner.get(address).content.decode()
    assert cast.head.get(at(cast, "evidence", WEAK)).status_code == 404
    assert cast.head.get(at(cast, "panels", WEAK)).status_code == 404


def test_the_numbers_check_shows_its_photographs(cast: Cast) -> None:
    sha256 = "ab" * 32
    Photo.objects.create(car=cast.car, file=f"photos/{sha256}.jpg", sha256=sha256, position=1)
    keep(
        cast,
        "identifiers",
        MARK | {"photo": f"photos/{sha256}.jpg", "scale_in_photo": "yes"},
        MARK | {"where": "tag", "photo": "lost.jpg"},
    )
    told = page(cast, "numbers")
    small = reverse("photo-picture", args=(cast.car.slug, sha256, "small"))
    assert f'src="{small}"' in told
    assert "with a scale" in re.sub(r"\s+", " ", told)
    assert "The record has no photograph lost.jpg" in told


WEAR = {
    "part": "gearbox",
    "item": "layshaft",
    "wear_mm": "0.4",
    "u_mm": "0.05",
    "per": "year",
    "least_mm": "0.005",
    "most_mm": "0.02",
    "source": "other cars of the workshop",
    "taken_at": "2026-11-02",
}


def test_wear_is_doubted_by_itself_and_stays(cast: Cast) -> None:
    part, row = "gearbox", WEAR
    keep(cast, "wear", row)
    mine = at(cast, "wear", row)
    told = page(cast, "evidence-of", part)
    assert "layshaft: 0.4 mm worn" in told
    assert mine in told
    look = cast.craft.get(mine).content.decode()
    assert "other cars of the workshop" in look
    assert "fitted when built, or fitted later?" in look
    answer = cast.craft.post(mine, {"standing": "doubted", "why": "read across the ridge"})
    assert answer.url == reverse("evidence-of", args=(cast.car.slug, part))
    told = page(cast, "evidence-of", part)
    assert "doubted: read across the ridge" in told
    assert "Nothing was weighed of it" in told
    cast.car.refresh_from_db()
    assert [one["wear_mm"] for one in sheet_rows(cast.car, "wear")] == ["0.4"]
    address = reverse("evidence-json", args=(cast.car.slug,))
    (aside,) = json.loads(cast.head.get(address).content)["evidence_set_aside"]
    assert aside["name"] == f"{part}: layshaft, 0.4 mm worn"
    assert aside["why"] == "read across the ridge"


def test_derived_evidence_leads_to_its_very_mark_and_event(cast: Cast) -> None:
    part = "gearbox"
    keep(cast, "identifiers", MARK | {"part": part, "kind": "frame"}, MARK | {"part": part})
    made = {"event": "plate cut", "subject": part, "kind": "made", "not_before": "1971"}
    keep(cast, "events", {**made, "not_after": ""})
    told = page(cast, "evidence-of", part)
    marks = page(cast, "numbers")
    leads = re.findall(r'href="([^"]*)#(mark-\w+)"', told)
    assert {address for address, _ in leads} == {reverse("numbers", args=(cast.car.slug,))}
    assert len({anchor for _, anchor in leads}) == 2
    for _, anchor in leads:
        assert marks.count(f'id="{anchor}"') == 1
    history = reverse("history", args=(cast.car.slug,))
    assert f"{history}?of=plate+cut#of" in told
    assert reverse("statement", args=(cast.car.slug, "event", "plate cut")) in told
    shown = cast.head.get(history, {"of": "plate cut"}).content.decode()
    assert re.search(r'id="of"><h3>Plate cut', shown)
