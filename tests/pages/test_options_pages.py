"""Options that the workshop's table offers, and every number of a piece changed on its page."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_options, lock_option, piece_options, set_sheet
from asfound.record.models import Entry

RATE = {
    "kind": "panel finish",
    "option": "refinish",
    "treatment": "refinish",
    "unit": "m²",
    "kept": "0.1",
    "grade": "5",
    "cost": "120",
    "undoable": "no",
    "caution": "test for lead before sanding",
    "source": "past work",
    "hours_painter": "14",
}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def write(cast: Cast, table: str, *rows: dict[str, str]) -> None:
    set_sheet(car=cast.car, table=table, rows=rows, by=cast.head_person.user)


def page(cast: Cast, who: str = "head") -> str:
    return getattr(cast, who).get(at(cast, "offered-options")).content.decode()


def test_hours_and_cost_are_the_rate_times_the_size_of_the_panel(cast: Cast) -> None:
    # The door is drawn 900 mm by 600 mm: 0.54 m², so 7.56 h (7.5 to a quarter) and 64.80.
    write(cast, "treatment_rates", RATE)
    size = {"subject": "door left", "kind": "panel finish", "size": "", "unit": "m²"}
    write(cast, "piece_sizes", size)
    shown = page(cast, "owner")
    assert "0.54 m² at the rate for panel finish (past work)" in shown
    assert "test for lead before sanding" in shown
    assert "Add those marked" not in shown
    taken = cast.craft.post(at(cast, "offered-options"), {"take": "0"})
    assert taken.url == at(cast, "decisions")
    option = cast.car.options.get(subject="door left")
    assert (option.cost, option.hours["painter"], option.kept) == (64.8, 7.5, 0.1)
    assert option.extra["source"] == "past work"
    assert "Every option that the table offers is in the record." in page(cast)
    assert Entry.objects.filter(action="add options").count() == 1


def test_brakes_left_alone_are_offered_as_not_safe_until_a_test_passed(cast: Cast) -> None:
    leave = {**RATE, "kind": "brake", "option": "leave it", "treatment": "leave as found"}
    write(cast, "treatment_rates", {**leave, "unit": "each", "hours_painter": ""})
    write(cast, "piece_sizes", {"subject": "brakes", "kind": "brake", "size": "", "unit": "each"})
    assert "not safe without a passed test" in page(cast)
    test = {"subject": "brakes", "test": "bench", "passed": "yes", "tested_on": "2026-10-01"}
    write(cast, "safety_tests", {**test, "by": "mechanic"})
    assert "not safe without a passed test" not in page(cast)


def test_a_piece_without_a_rate_or_a_size_is_named(cast: Cast) -> None:
    write(cast, "piece_sizes", {"subject": "seats", "kind": "trim", "size": "", "unit": "m²"})
    assert "Without a rate of their kind and unit, or without a size: seats." in page(cast)


def typed(cast: Cast, subject: str, **changes: str) -> dict[str, str]:
    """The form of a piece's options as it opens, with some cells changed."""
    rows = piece_options(cast.car, subject)
    names = [name for name in rows[0] if name != "subject"]
    data = {f"{n}.{c}": row[c] for n, row in enumerate(rows, start=1) for c in names}
    shown = cast.head.get(at(cast, "edit-options", subject)).content.decode()
    seen = shown.split('name="seen" value="')[1].split('"')[0].replace("&quot;", '"')
    return {**data, "rows": str(len(rows)), "seen": seen, "step": "keep", **changes}


def test_every_number_of_an_option_can_be_changed_with_its_source(cast: Cast) -> None:
    data = typed(cast, "seats", **{"2.cost": "450", "2.source": "quote", "2.hours_trimmer": "14"})
    assert cast.head.post(at(cast, "edit-options", "seats"), data).status_code == 302
    option = cast.car.options.get(subject="seats", option="mend")
    assert (option.cost, option.hours["trimmer"], option.extra["source"]) == (450, 14, "quote")
    assert cast.car.options.count() == 8
    assert Entry.objects.filter(action="set options").count() == 1


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"1.kept": "1.4"}, "kept is “1.4”"),
        ({"1.option": "mend"}, "mend"),
        ({"1.source": "hearsay"}, "source is “hearsay”"),
    ],
)
def test_a_number_that_cannot_be_is_told_at_its_row(cast: Cast, change: dict, told: str) -> None:
    answer = cast.head.post(at(cast, "edit-options", "seats"), typed(cast, "seats", **change))
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Entry.objects.filter(action="set options").exists()


def test_an_option_that_is_locked_stays_among_them(cast: Cast) -> None:
    head = cast.head_person.user
    lock_option(car=cast.car, subject="seats", option="mend", reason="agreed", by=head)
    answer = cast.head.post(
        at(cast, "edit-options", "seats"), typed(cast, "seats", **{"2.option": "sew"})
    )
    assert answer.status_code == 409
    assert "Release the lock first." in answer.content.decode()


def test_two_who_change_the_same_options_do_not_overwrite_each_other(cast: Cast) -> None:
    mine = typed(cast, "seats", **{"2.cost": "450"})
    cast.head.post(at(cast, "edit-options", "seats"), typed(cast, "seats", **{"2.cost": "470"}))
    answer = cast.craft.post(at(cast, "edit-options", "seats"), mine)
    assert answer.status_code == 409
    assert cast.car.options.get(subject="seats", option="mend").cost == 470


def test_an_owner_changes_no_number_and_a_stranger_sees_none(cast: Cast) -> None:
    assert cast.owner.get(at(cast, "edit-options", "seats")).status_code == 403
    assert cast.owner.post(at(cast, "offered-options"), {}).status_code == 403
    assert cast.stranger.get(at(cast, "offered-options")).status_code == 404


def test_what_is_there_already_is_not_added_twice(cast: Cast) -> None:
    rows = [{**piece_options(cast.car, "seats")[0]}]
    assert add_options(car=cast.car, rows=rows, by=cast.head_person.user) == 0
    assert cast.car.options.count() == 8
