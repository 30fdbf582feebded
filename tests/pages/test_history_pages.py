"""The history's pages: clashes seen, looked at without a statement, doubted and taken back."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.desk.history.forms import EventForm
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.models import Entry

CARD, COAT, LETTER = "pigment first sold", "wing painted", "letter praises the wing"
LINK = {"unit": "day", "min": "0", "max": ""}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


@pytest.fixture
def clashing(cast: Cast) -> Cast:
    """A letter of 1975 praises a coat that holds a pigment of 1978."""
    events = [
        {"event": CARD, "not_before": "1978", "not_after": "1978", "note": "colour card"},
        {"event": COAT, "subject": "left front wing"},
        {"event": LETTER, "not_before": "1975-06", "not_after": "1975-06"},
        {"event": "found", "not_before": "2024-02", "not_after": "2024-02"},
    ]
    links = [
        {"id": "k1", "from": CARD, "to": COAT, "why": "it lies in the coat", **LINK},
        {"id": "k2", "from": COAT, "to": LETTER, **LINK},
    ]
    set_sheet(car=cast.car, table="events", rows=events, by=None)
    set_sheet(car=cast.car, table="event_links", rows=links, by=None)
    return cast


def read(cast: Cast, query: str = "") -> str:
    answer = cast.owner.get(at(cast, "history") + query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_car_without_events_says_so(cast: Cast) -> None:
    set_sheet(car=cast.car, table="events", rows=[], by=None)
    set_sheet(car=cast.car, table="event_links", rows=[], by=None)
    assert "Nothing of this car&#x27;s history" in read(cast).replace("'", "&#x27;")


def test_a_clash_is_told_in_words_and_drawn(clashing: Cast) -> None:
    page = read(clashing)
    assert ">wing painted is not before pigment first sold; it lies in the coat<" in page
    assert "k1:" not in page  # a name in the table tells the reader nothing
    assert "pigment first sold: 1978; colour card" in page
    assert page.count('class="timeline"') == 2
    assert 'class="strata"' in page
    assert " style=" not in page
    assert "Doubt or withdraw" not in page  # an owner reads


def test_links_of_an_event_are_drawn_on_demand(clashing: Cast) -> None:
    assert ">k2<" not in read(clashing)
    page = read(clashing, f"?of={LETTER}")
    assert ">k2<" in page
    assert ">k1<" not in page
    assert "Drawn: the links of letter praises the wing," in page


def test_a_look_without_a_statement_writes_nothing(clashing: Cast) -> None:
    before = Entry.objects.count()
    page = read(clashing, "?without=link:k2")
    assert "The rest can hold together." in page
    assert "A look without 1 statement" in page
    assert "1978-01-01" in page
    assert Entry.objects.count() == before
    assert "1 clash" in read(clashing, "?without=event:found&without=link:nobody")


def test_a_statement_shows_its_effect_and_is_doubted_with_a_reason(clashing: Cast) -> None:
    address = at(clashing, "statement", "event", LETTER)
    page = clashing.craft.get(address).content.decode()
    assert "1 clash with it, none without it." in page
    refused = clashing.craft.post(address, {"standing": "doubted", "why": " "})
    assert refused.status_code == 422
    assert "Say why the statement does not count." in refused.content.decode()
    kept = clashing.craft.post(address, {"standing": "doubted", "why": "undated copy"})
    assert kept.url == at(clashing, "history")
    page = read(clashing)
    assert "all of it can hold together" in page
    assert "(doubted: undated copy)" in page
    (row,) = [r for r in sheet_rows(clashing.car, "events") if r["event"] == LETTER]
    assert (row["not_after"], row["standing"]) == ("1975-06", "doubted")
    assert Entry.objects.latest("pk").action == "set events"


def test_a_doubted_statement_is_let_hold_again(clashing: Cast) -> None:
    address = at(clashing, "statement", "link", "k2")
    clashing.head.post(address, {"standing": "withdrawn", "why": "another wing"})
    assert "It does not count: withdrawn, another wing." in (
        clashing.head.get(address).content.decode()
    )
    clashing.head.post(address, {"standing": "holds", "why": "left over"})
    (row,) = [r for r in sheet_rows(clashing.car, "event_links") if r["id"] == "k2"]
    assert (row["standing"], row["standing_why"]) == ("", "")
    assert "1 clash" in read(clashing)


def test_an_event_is_written_down_under_the_rules_of_the_folder(cast: Cast) -> None:
    typed = {"event": "sold  again", "not_before": "1961", "not_after": "1958", "step": "keep"}
    refused = cast.craft.post(at(cast, "add-event"), typed)
    assert refused.status_code == 422
    assert "must not be later than not after" in refused.content.decode()
    typed["kind"] = "sold"
    kept = cast.craft.post(at(cast, "add-event"), {**typed, "not_after": "1963~"})
    assert kept.url == at(cast, "history")
    cast.car.refresh_from_db()
    row = sheet_rows(cast.car, "events")[-1]
    assert (row["event"], row["kind"], row["not_after"]) == ("sold again", "sold", "1963~")
    twice = cast.craft.post(at(cast, "add-event"), {**typed, "not_after": ""})
    assert twice.status_code == 422


def test_two_events_are_tied(clashing: Cast) -> None:
    address = at(clashing, "add-link")
    typed = {"start": COAT, "end": "found", "how": "between", "least": "3", "most": "1"}
    refused = clashing.craft.post(address, {**typed, "unit": "year", "step": "keep"})
    assert refused.status_code == 422
    assert "must not be more than max" in refused.content.decode()
    kept = clashing.craft.post(address, {**typed, "most": "60", "unit": "year", "step": "next"})
    assert kept.url == address
    row = sheet_rows(clashing.car, "event_links")[-1]
    assert [row[c] for c in ("id", "from", "to", "min", "max", "unit")] == [
        *("k3", COAT, "found"),
        *("3", "60", "year"),
    ]
    same = {"start": COAT, "end": COAT, "how": "over", "unit": "day"}
    assert clashing.craft.post(address, same).status_code == 422


def test_what_is_computed_can_be_taken_away(clashing: Cast) -> None:
    told = json.loads(clashing.owner.get(at(clashing, "history-json")).content)
    assert told["conflicts"] == [["k1", "k2", LETTER, CARD]]
    assert clashing.owner.get(at(clashing, "history-svg")).content.startswith(b"<svg")


def test_who_may_not(clashing: Cast) -> None:
    address = at(clashing, "statement", "link", "k2")
    doubt = {"standing": "doubted", "why": "I would rather not"}
    assert clashing.owner.get(address).status_code == 200
    assert clashing.owner.post(address, doubt).status_code == 403
    assert clashing.owner.get(at(clashing, "add-event")).status_code == 403
    assert clashing.stranger.get(address).status_code == 404
    assert clashing.stranger.get(at(clashing, "history")).status_code == 404
    assert clashing.nobody.get(address).status_code == 302
    assert clashing.craft.get(at(clashing, "statement", "link", "k9")).status_code == 404


def test_the_page_reads_no_more_than_its_car(
    clashing: Cast, django_assert_max_num_queries: object
) -> None:
    clashing.owner.get(at(clashing, "history"))
    with django_assert_max_num_queries(20):  # type: ignore[operator]
        clashing.owner.get(at(clashing, "history"))


def test_many_events_are_shown_in_parts(cast: Cast) -> None:
    events = [{"event": f"e{i:03d}", "not_before": str(1900 + i)} for i in range(90)]
    set_sheet(car=cast.car, table="events", rows=events, by=None)
    page = read(cast)
    assert "90 events" in page
    assert "e080" not in page.partition('id="events"')[2]
    assert "e080" in read(cast, "?part=2").partition('id="events"')[2]
    assert "e080" in read(cast, "?of=e080").partition('id="events"')[2]
    assert "e000" in read(cast, "?part=99").partition('id="events"')[2]


def test_the_sheet_of_the_car_tells_of_clashes(clashing: Cast) -> None:
    fragment = at(clashing, "car-papers")
    assert fragment in clashing.owner.get(at(clashing, "car")).content.decode()
    told = clashing.owner.get(fragment).content.decode()
    assert "These cannot all hold:" in told
    assert ">letter praises the wing is not before wing painted<" in told
    set_sheet(car=clashing.car, table="event_links", rows=[], by=None)
    assert "4 events: what is said of them can hold together" in (
        clashing.owner.get(fragment).content.decode()
    )
    set_sheet(car=clashing.car, table="events", rows=[], by=None)
    assert "written down yet" in clashing.owner.get(fragment).content.decode()
    assert clashing.stranger.get(fragment).status_code == 404


def test_an_event_does_not_overwrite_what_somebody_wrote_meanwhile(clashing: Cast) -> None:
    car = clashing.car
    form = EventForm({"event": "sold", "not_before": "1981"}, folder=folder_of(car))
    assert form.is_valid()
    theirs = [*sheet_rows(car, "events"), {"event": "brought home", "not_before": "1990"}]
    set_sheet(car=car, table="events", rows=theirs, by=None)
    assert not form.keep(car, by=None)
    assert "Open the page again" in str(form.errors)
    assert sheet_rows(car, "events")[-1]["event"] == "brought home"
    form = EventForm({"event": "sold", "not_before": "1981"}, folder=folder_of(car))
    assert form.is_valid()
    assert form.keep(car, by=None)
    assert [row["event"] for row in sheet_rows(car, "events")[-2:]] == ["brought home", "sold"]
