"""Hours of options from the workshop's finished work, offered and taken over by one press."""

from __future__ import annotations

from django.urls import reverse
from tests.pages.conftest import Cast
from tests.pages.test_options_pages import RATE, at, page, typed, write

from asfound.record.actions import add_observations, piece_options
from asfound.record.models import Entry

SIZE = {"subject": "door left", "kind": "panel finish", "size": "2", "unit": "m²"}
TASK = {
    "task": "bonnet: refinish",
    "name": "Refinish: bonnet",
    "trade": "painter",
    "hours_low": "8",
    "hours_likely": "8",
    "hours_high": "8",
}
WORKED = {
    "task": "bonnet: refinish",
    "person": "trimmer",
    "from_at": "2026-03-02T08:00:00Z",
    "to_at": "2026-03-02T20:00:00Z",
    "done": "yes",
}


def finished(cast: Cast) -> None:
    """One job of the painter that was to take 8 h and took 12."""
    write(cast, "tasks", TASK)
    add_observations(car=cast.car, table="worked", rows=[WORKED], by=cast.head_person.user)
    write(cast, "treatment_rates", RATE)
    write(cast, "piece_sizes", SIZE)


def hours(cast: Cast) -> dict[str, str]:
    cast.car.refresh_from_db()
    (row,) = piece_options(cast.car, "door left")
    return row


def test_without_finished_work_the_table_stands_alone(cast: Cast) -> None:
    write(cast, "treatment_rates", RATE)
    write(cast, "piece_sizes", SIZE)
    assert "your past work says" not in page(cast)


def test_one_press_adds_an_option_with_the_hours_of_the_past(cast: Cast) -> None:
    finished(cast)
    shown = page(cast)
    assert "1 job of the painter, 1 of this kind" in shown
    cast.head.post(at(cast, "offered-options"), {"past": "0"})
    row = hours(cast)
    # One job at 1.5 with variance 0.09 against the prior N(0, 0.25²): weights 100/9 and 16.
    assert float(row["hours_painter"]) == round(4 * 28 * 1.5 ** (100 / 9 / (100 / 9 + 16))) / 4
    assert row["source"] == "past work"
    assert row["learned"].startswith("painter 1.")
    assert cast.owner.post(at(cast, "offered-options"), {"past": "0"}).status_code == 403


def test_the_tables_hours_in_the_record_are_replaced_by_one_press_and_typed_ones_never(
    cast: Cast,
) -> None:
    finished(cast)
    cast.head.post(at(cast, "offered-options"), {"take": "0"})
    assert float(hours(cast)["hours_painter"]) == 28
    take = reverse("past-hours", args=(cast.car.slug, "door left"))
    assert take in page(cast)
    assert take in cast.head.get(at(cast, "piece", "door left")).content.decode()
    assert cast.owner.post(take, {"take": "refinish"}).status_code == 403
    assert cast.stranger.post(take, {"take": "refinish"}).status_code == 404
    cast.craft.post(take, {"take": "refinish"})
    learned = hours(cast)
    assert float(learned["hours_painter"]) > 28
    assert Entry.objects.filter(action="set options").count() == 1
    data = typed(cast, "door left", **{"1.hours_painter": "30", "1.source": "quote"})
    cast.head.post(at(cast, "edit-options", "door left"), data)
    assert (hours(cast)["hours_painter"], hours(cast)["learned"]) == ("30", "")
    cast.head.post(take, {"take": "refinish"})
    assert hours(cast)["hours_painter"] == "30"


def test_other_changes_leave_what_was_learned(cast: Cast) -> None:
    finished(cast)
    cast.head.post(at(cast, "offered-options"), {"take": "0", "hours": "past"})
    learned = hours(cast)["learned"]
    assert learned
    data = typed(cast, "door left", **{"1.cost": "300"})
    assert 'name="1.learned"' not in cast.head.get(at(cast, "edit-options", "door left")).text
    del data["1.learned"]
    cast.head.post(at(cast, "edit-options", "door left"), data)
    assert (hours(cast)["cost"], hours(cast)["learned"]) == ("300", learned)
