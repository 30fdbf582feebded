"""The log of a car, and taking back a withdrawal from the message that tells it."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.desk.log.differ import Change, changes_of
from asfound.record.actions import (
    add_observations,
    lock_option,
    set_brief,
    set_sheet,
    withdraw_observation,
)
from asfound.record.models import Entry


def text(answer: object) -> str:
    return answer.content.decode()  # type: ignore[attr-defined]


def test_the_log_is_the_workshops(cast: Cast) -> None:
    address = reverse("log", args=(cast.car.slug,))
    line = reverse("log-line", args=(cast.car.slug, Entry.objects.filter(car=cast.car).first().pk))
    for one in (address, line):
        assert [c.get(one).status_code for c in (cast.head, cast.craft)] == [200, 200]
        assert cast.owner.get(one).status_code == 403
        assert cast.stranger.get(one).status_code == 404
        assert cast.nobody.get(one).status_code == 302
    assert address not in text(cast.owner.get(reverse("car", args=(cast.car.slug,))))


def test_the_log_tells_who_what_before_and_after(cast: Cast) -> None:
    user = cast.head_person.user
    set_brief(car=cast.car, content={"cost_max": 1_000.0, "name": "first"}, by=user)
    set_brief(car=cast.car, content={"cost_max": 1_250.0, "name": "first"}, by=user)
    page = text(cast.craft.get(reverse("log", args=(cast.car.slug,))))
    first = page.index("<b>Wrote the owner's brief".replace("'", "&#x27;"))
    assert page.index("<del>1000</del> <ins>1250</ins>") > first
    assert "head" in page
    assert page.index("<b>Read the car in") > first


def test_the_log_is_filtered_by_person_and_action(cast: Cast) -> None:
    set_brief(car=cast.car, content={"cost_max": 1}, by=cast.head_person.user)
    address = reverse("log", args=(cast.car.slug,))

    def lines(**asked: str) -> list[str]:
        return [line.action for line in cast.head.get(address, asked).context["lines"]]

    assert lines(who="head") == ["set brief"]
    assert lines(action="set brief") == ["set brief"]
    assert "load car" in lines(who="-")
    assert "set brief" not in lines(who="-")
    assert lines(who="nobody of that name") == []


def test_the_log_is_paged(cast: Cast, django_assert_max_num_queries) -> None:
    for cost in range(90):
        set_brief(car=cast.car, content={"cost_max": cost}, by=None)
    address = reverse("log", args=(cast.car.slug,))
    with django_assert_max_num_queries(10):
        page = cast.head.get(address, {"action": "set brief", "page": "3"})
    assert len(page.context["lines"]) == 10
    assert "action=set+brief&amp;page=2" in text(page)


def test_no_line_of_another_car_is_shown(cast: Cast) -> None:
    other = Entry.objects.filter(car=None).first()
    assert cast.head.get(reverse("log-line", args=(cast.car.slug, other.pk))).status_code == 404


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (None, {"a": 1}, [("a", "", "1")]),
        ({"a": 1, "b": 2}, {"a": 1, "b": 3}, [("b", "2", "3")]),
        ({"a": {"b": 1.5}}, {"a": {"b": None}}, [("a b", "1.5", "")]),
        (None, {"film": [{"x": 1}, {"x": 2}]}, [("film", "", "2 rows")]),
        (None, ["x"], [("value", "", "x")]),
        (None, None, []),
    ],
)
def test_what_changed_is_told_key_by_key(before, after, told) -> None:
    expected = [Change(name=name, before=was, after=now) for name, was, now in told]
    assert list(changes_of(before, after)) == expected


def test_a_row_that_changed_is_told_by_its_key_and_one_without_by_its_number() -> None:
    was = [{"task": "T1", "hours_low": "4"}, {"task": "T2", "hours_low": "2"}]
    now = [{"task": "T2", "hours_low": "3"}, {"task": "T1", "hours_low": "4"}]
    assert list(changes_of(was, now, table="tasks")) == [
        Change(of="T2", name="hours, at least", before="2", after="3")
    ]
    assert list(changes_of(was, [was[0], {"task": "", "hours_low": "1"}])) == [
        Change(of="row 2", name="task", before="T2", after=""),
        Change(of="row 2", name="hours, at least", before="2", after="1"),
    ]


def test_rows_that_are_only_added_are_counted_in_few_words_and_told_whole() -> None:
    after = {"film": [{"panel": "roof", "um": "110"}, {"panel": "roof", "um": "120"}]}
    assert [c.after for c in changes_of(None, after)] == ["2 rows"]
    told = [(c.of, c.name, c.after) for c in changes_of(None, after, whole=True)]
    assert told[-1] == ("row 2: roof", "um", "120")
    assert len(told) == 4


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        ("POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0))", "outline with 4 corners"),
        ("2026-11-29T14:53:01Z", "2026-11-29 14:53 UTC"),
        ('[{"kind": "ring"}]', "1 row"),
        ("[{ not JSON", "[{ not JSON"),
        (f"photos/{'ab' * 32}.jpg", "photos/abababababab ….jpg"),
    ],
)
def test_a_cell_for_programs_is_told_in_words(cell: str, told: str) -> None:
    assert [change.after for change in changes_of(None, {"cell": cell})] == [told]


def test_a_line_tells_field_by_field_what_was_and_what_is(cast: Cast) -> None:
    first = [{"task": "T1", "name": "Strip", "trade": "metal", "hours_low": "2"}]
    set_sheet(car=cast.car, table="tasks", rows=first, by=None)
    second = [{**first[0], "hours_low": "3"}, {"task": "T2", "name": "Weld", "trade": "metal"}]
    entry = set_sheet(car=cast.car, table="tasks", rows=second, by=None)
    page = cast.craft.get(reverse("log-line", args=(cast.car.slug, entry.pk)))
    changed, added = page.context["told"].groups
    assert [(c.before, c.after) for c in changed.changes] == [("2", "3")]
    assert (changed.of, added.of) == ("T1", "T2")
    assert "<h1>Wrote the tasks</h1>" in text(page)
    assert text(page).index("For an auditor") < text(page).index("set tasks")


def test_a_withdrawn_reading_is_taken_back_from_its_message(cast: Cast) -> None:
    reading = cast.car.film_readings.first()
    correct = reverse("correct", args=(cast.car.slug, reading.pk))
    page = cast.craft.post(correct, {"step": "withdraw", "reason": "seam"}, follow=True)
    undo = reverse("undo", args=(cast.car.slug, "film-reading", reading.pk))
    assert f'action="{undo}"' in text(page)
    back = cast.craft.post(undo, {"next": page.wsgi_request.path}, follow=True)
    assert back.wsgi_request.path == page.wsgi_request.path
    assert "counts again" in text(back)
    reading.refresh_from_db()
    assert reading.counts
    again = cast.craft.post(undo)
    assert again.status_code == 409
    assert "was not done" in text(again)


def test_a_withdrawn_observation_is_taken_back(cast: Cast) -> None:
    row = {"panel": "bonnet", "spot": "1", "L": "40", "a": "1", "b": "2"}
    (made,) = add_observations(car=cast.car, table="colour", rows=[row], by=None)
    withdraw_observation(observation=made, reason="dirty", by=None)
    undo = reverse("undo", args=(cast.car.slug, "observation", made.pk))
    cast.craft.post(undo)
    made.refresh_from_db()
    assert made.counts


def test_a_released_lock_is_locked_again(cast: Cast) -> None:
    option = cast.car.options.exclude(safe=False).first()
    lock_option(car=cast.car, subject=option.subject, option=option.option, reason="w", by=None)
    release = reverse("release", args=(cast.car.slug, option.subject))
    cast.head.post(release, {"reason": "slip"})
    gone = cast.car.decisions.exclude(withdrawn_at=None).last()
    undo = reverse("undo", args=(cast.car.slug, "lock", gone.pk))
    answer = cast.head.post(undo, {"next": "https://elsewhere.example/"})
    assert answer.url == reverse("car", args=(cast.car.slug,))
    assert cast.car.decisions.current().get(subject=option.subject).option == option.option


def test_who_may_not_write_takes_nothing_back(cast: Cast) -> None:
    reading = cast.car.film_readings.first()
    undo = reverse("undo", args=(cast.car.slug, "film-reading", reading.pk))
    assert cast.owner.post(undo).status_code == 403
    assert cast.stranger.post(undo).status_code == 404
    assert cast.head.get(undo).status_code == 405
    assert cast.head.post(undo.replace("film-reading", "kitchen")).status_code == 404


def test_a_line_tells_a_hash_by_its_beginning_and_a_name_in_words() -> None:
    (told,) = changes_of(None, {"document_sha256": "0123456789ab" + "c" * 52})
    assert (told.name, told.after) == ("document sha256", "0123456789ab …")
