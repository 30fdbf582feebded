"""Parts out of the workshop: sent from a part's page, overdue told, back in the place asked."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, add_place, move_parts, send_out
from asfound.record.models import Car, Observation, Part, Place

pytestmark = pytest.mark.django_db
PDF = b"%PDF-1.4 made up for a test"


def day(shift: int) -> str:
    return (timezone.localdate() + timedelta(days=shift)).isoformat()


@pytest.fixture
def spring(cast: Cast) -> Part:
    row = {"name": "seat spring", "place": "box 4"}
    (made,) = add_parts(car=cast.car, rows=[row], by=None)
    return made


def url(cast: Cast, name: str, *more: object) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def sent(part: Part, **cells: str) -> Observation:
    told = {"to": "Brisk Plating", "work": "zinc plating", "sent_on": day(-20), **cells}
    (made,) = send_out(parts=[part], cells=told, by=None)
    return made


def form(part: Part, **more: object) -> dict[str, object]:
    told = {"to": "Brisk Plating", "work": "zinc plating", "due_on": day(14), "sent_on": day(0)}
    return {"parts": part.part, "key": "k1", **told, **more}


def text(answer: object) -> str:
    return answer.content.decode()  # type: ignore[attr-defined]


def test_a_part_is_sent_out_with_its_paper_and_its_cautions_stand_there(
    cast: Cast, spring: Part
) -> None:
    asked = text(cast.craft.get(url(cast, "send-out"), {"parts": spring.part}))
    assert "Springs under load" in asked
    note = SimpleUploadedFile("note.pdf", PDF)
    page = text(cast.craft.post(url(cast, "send-out"), form(spring, paper=note), follow=True))
    assert "Out at Brisk Plating, due in 14 days" in page
    (errand,) = cast.car.observations.current().filter(table="errands")
    assert errand.cells["by"] == "trimmer"
    assert errand.cells["paper"].startswith("papers/")
    spring.refresh_from_db()
    assert spring.place == "Brisk Plating"
    assert Place.objects.get(name="Brisk Plating").kind == "outside"


def test_what_is_sent_twice_is_out_once(cast: Cast, spring: Part) -> None:
    cast.craft.post(url(cast, "send-out"), form(spring))
    answer = cast.craft.post(url(cast, "send-out"), form(spring, key="k2"))
    assert answer.status_code == 422
    assert "is out already" in text(answer)
    assert cast.car.observations.current().filter(table="errands").count() == 1


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"due_on": "2020-01-01"}, "no earlier than the day it was sent"),
        ({"parts": "0999"}, "no part 0999"),
        ({"to": "box 4"}, "a part that stays in the workshop"),
        ({"due_on": "soon"}, "soon"),
        ({"cost": "-3"}, "cannot be negative"),
        ({"paper": SimpleUploadedFile("note.exe", b"MZ")}, "a paper is a PDF or a photograph"),
    ],
)
def test_what_cannot_be_sent_is_asked_back(
    cast: Cast, spring: Part, changed: dict[str, object], told: str
) -> None:
    add_place(name="box 4", kind="box", by=None)
    answer = cast.craft.post(url(cast, "send-out"), form(spring, **changed))
    assert answer.status_code == 422
    assert told.lower() in text(answer).lower()
    assert not cast.car.observations.filter(table="errands").exists()


def test_several_parts_go_out_at_once_by_number_or_tag(cast: Cast, spring: Part) -> None:
    (other,) = add_parts(car=cast.car, rows=[{"name": "hook"}], by=None)
    both = form(spring, parts=f"{spring.part}, {other.tag.lower()}")
    assert cast.craft.post(url(cast, "send-out"), both).url == url(cast, "errands")
    assert cast.car.parts.filter(place="Brisk Plating").count() == 2


def test_the_overdue_come_first_over_all_cars(cast: Cast, spring: Part) -> None:
    late, soon, open_end = add_parts(
        car=cast.car, rows=[{"name": n} for n in ("late one", "soon one", "no day")], by=None
    )
    sent(open_end)
    sent(soon, due_on=day(3))
    sent(late, due_on=day(-5))
    sent(spring, due_on=day(0))
    page = text(cast.head.get(reverse("all-errands")))
    places = [
        page.index(words)
        for words in ("5 days overdue", "due today", "due in 3 days", "no day agreed")
    ]
    assert places == sorted(places)
    assert page.index("Overdue</h2>") < places[0] < page.index("Due within a week")


def test_back_asks_the_place_and_keeps_what_was_said_before(cast: Cast, spring: Part) -> None:
    errand = sent(spring, due_on=day(-1))
    told = {"back_on": day(0), "cost": "84,50"}
    asked = cast.craft.post(url(cast, "errand-back", errand.pk), {**told, "place": " "})
    assert asked.status_code == 422
    page = text(
        cast.craft.post(
            url(cast, "errand-back", errand.pk), {**told, "place": "shelf 2"}, follow=True
        )
    )
    assert "is back from Brisk Plating, in shelf 2" in page
    now = cast.car.observations.current().get(table="errands")
    assert (now.cells["back_on"], now.cells["cost"]) == (day(0), "84.50")
    spring.refresh_from_db()
    assert spring.place == "shelf 2"
    assert cast.craft.get(url(cast, "errand", errand.pk)).url == url(cast, "errand", now.pk)
    before = text(cast.craft.get(url(cast, "errand", now.pk)))
    assert "it is back" in before
    again = cast.craft.post(url(cast, "errand-back", now.pk), {**told, "place": "shelf 2"})
    assert again.status_code == 409
    assert "which is back" in text(again)


def test_an_errand_is_corrected_and_withdrawn_with_a_reason(cast: Cast, spring: Part) -> None:
    errand = sent(spring, due_on=day(5))
    right = {"to": "Brisk Plating", "work": "nickel plating", "sent_on": day(-20)}
    no_why = cast.craft.post(url(cast, "correct-errand", errand.pk), {**right, "reason": ""})
    assert no_why.status_code == 422
    late = {**right, "due_on": "2026-13", "reason": "w"}
    assert cast.craft.post(url(cast, "correct-errand", errand.pk), late).status_code == 422
    cast.craft.post(
        url(cast, "correct-errand", errand.pk), {**right, "due_on": "2031-03", "reason": "asked"}
    )
    now = cast.car.observations.current().get(table="errands")
    assert (now.cells["work"], now.cells["due_on"]) == ("nickel plating", "2031-03")
    page = cast.craft.get(url(cast, "correct-errand", now.pk))
    assert page.context["withdraw"].initial["place"] == "box 4"
    cast.craft.post(url(cast, "withdraw-errand", now.pk), {"reason": ""})
    assert cast.car.observations.current().filter(table="errands").exists()
    cast.craft.post(url(cast, "withdraw-errand", now.pk), {"reason": "slip", "place": "box 4"})
    assert not cast.car.observations.current().filter(table="errands").exists()
    spring.refresh_from_db()
    assert spring.place == "box 4"
    assert cast.craft.get(url(cast, "errand", now.pk)).status_code == 404
    sent(spring)
    undo = url(cast, "undo", "observation", now.pk)
    assert cast.craft.post(undo).status_code == 409, "it is out on another errand since"


def test_papers_are_kept_given_back_and_the_workshops_alone(cast: Cast, spring: Part) -> None:
    errand = sent(spring)
    paper = SimpleUploadedFile("invoice.pdf", PDF)
    cast.craft.post(url(cast, "add-paper", errand.pk), {"paper": paper})
    now = cast.car.observations.current().get(table="errands")
    name = now.cells["paper"].removeprefix("papers/")
    got = cast.craft.get(url(cast, "paper", now.pk, name))
    assert b"".join(got.streaming_content) == PDF
    assert "attachment" in got["Content-Disposition"]
    assert cast.owner.get(url(cast, "paper", now.pk, name)).status_code == 403
    assert cast.stranger.get(url(cast, "paper", now.pk, name)).status_code == 404
    other = sent(add_parts(car=cast.car, rows=[{"name": "hook"}], by=None)[0])
    assert cast.craft.get(url(cast, "paper", other.pk, name)).status_code == 404
    wrong = cast.craft.post(
        url(cast, "add-paper", now.pk), {"paper": SimpleUploadedFile("a.txt", b"hello")}
    )
    assert wrong.status_code == 422


def test_where_is_says_who_has_it_and_until_when(cast: Cast, spring: Part) -> None:
    sent(spring, due_on=day(-2))
    for page in (
        cast.craft.get(reverse("search"), {"q": "seat spring"}),
        cast.craft.get(url(cast, "parts"), {"q": "spring"}),
        cast.craft.get(url(cast, "part", spring.part)),
        cast.craft.get(
            reverse("place", args=(Place.objects.get(name="Brisk Plating").tag,)),
        ),
    ):
        assert "ut at Brisk Plating, 2 days overdue" in text(page)


def test_a_part_moved_without_saying_so_is_told(cast: Cast, spring: Part) -> None:
    errand = sent(spring)
    spring.refresh_from_db()
    move_parts(parts=[spring], to_place="box 9", by=None)
    for page in (url(cast, "part", spring.part), url(cast, "errand", errand.pk)):
        assert "The register has" in text(cast.craft.get(page))


def test_errands_are_given_as_tables(cast: Cast, spring: Part) -> None:
    assert cast.craft.get(url(cast, "errands-csv")).status_code == 404
    sent(spring, due_on=day(-2), cost="40")
    table = text(cast.craft.get(url(cast, "errands-csv"))).splitlines()
    assert table[0].startswith("part,to,work,sent_on")
    assert table[1].startswith(f"{spring.part},Brisk Plating,zinc plating,{day(-20)},")
    told = json.loads(cast.craft.get(url(cast, "errands-json")).content)["errands"]
    assert (told[0]["days_out"], told[0]["days_left"], told[0]["overdue"]) == (20, -2, True)
    every = text(cast.craft.get(reverse("all-errands-csv"))).splitlines()
    assert every[1].startswith(f"{cast.car.slug},{spring.part},Brisk Plating")


def test_who_may_see_and_write_errands(cast: Cast, spring: Part) -> None:
    errand = sent(spring, cost="77")
    pages = [url(cast, "errands"), url(cast, "errand", errand.pk)]
    for page in pages:
        assert [c.get(page).status_code for c in (cast.head, cast.craft, cast.owner)] == [200] * 3
        assert cast.stranger.get(page).status_code == 404
        assert cast.nobody.get(page).status_code == 302
        assert "77" in text(cast.craft.get(page))
        assert "77\N{NO-BREAK SPACE}EUR" not in text(cast.owner.get(page))
    shut = [url(cast, name) for name in ("send-out", "errands-csv", "errands-json")]
    for page in [*shut, url(cast, "correct-errand", errand.pk)]:
        assert cast.owner.get(page).status_code == 403
        assert cast.stranger.get(page).status_code == 404
    for page in (reverse("all-errands"), reverse("all-errands-csv")):
        assert [c.get(page).status_code for c in (cast.head, cast.craft)] == [200, 200]
        assert [c.get(page).status_code for c in (cast.owner, cast.stranger)] == [403, 403]
    for name in ("errand-back", "correct-errand", "withdraw-errand", "add-paper"):
        assert cast.owner.post(url(cast, name, errand.pk), {}).status_code == 403
        assert cast.stranger.post(url(cast, name, errand.pk), {}).status_code == 404
    assert cast.owner.post(url(cast, "send-out"), {}).status_code == 403


def test_an_errand_of_another_car_is_not_found(cast: Cast, spring: Part) -> None:
    other = Car.objects.create(slug="other", marque="Orvelle", model="x", built="1950", heads={})
    (part,) = add_parts(car=other, rows=[{"name": "lamp"}], by=None)
    errand = sent(part)
    assert cast.craft.get(url(cast, "errand", errand.pk)).status_code == 404


def test_the_list_reads_no_more_with_more_errands(
    cast: Cast, django_assert_max_num_queries
) -> None:
    parts = add_parts(car=cast.car, rows=[{"name": f"bolt {n}"} for n in range(60)], by=None)
    told = {"to": "Brisk Plating", "work": "zinc plating", "sent_on": day(-1)}
    send_out(parts=list(parts), cells=told, by=None)
    with django_assert_max_num_queries(9):
        page = text(cast.head.get(reverse("all-errands")))
    assert page.count('class="index-line"') == 50
    assert "page=2" in page
