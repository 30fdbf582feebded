"""Seams, what comes off once and what waits, as the pages show them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast, Once
from tests.pages.small_car import small_car

from asfound.desk.decisions.ties import seams_now
from asfound.record.actions import load_car, lock_option
from asfound.record.convert.choice import choice_problem
from asfound.record.folder import Sheet
from asfound.record.models import Car

FRAGMENT = {"HX-Request": "true"}
COLUMNS = (
    "kind",
    "subject",
    "option",
    "other_subject",
    "other_option",
    "saves_cost",
    "saves_hours",
    "trade",
    "why",
    "most_grade_step",
)
ROWS = (
    ("seam", "seats", "", "door finish", "", "", "", "", "seen together", "2"),
    ("needs off", "seats", "mend", "carpet", "", "", "2", "trimmer", "", ""),
    ("needs off", "door finish", "keep", "carpet", "", "", "2", "trimmer", "", ""),
    ("waits", "door finish", "paint", "brakes", "", "", "", "", "chalk marks", ""),
)


@pytest.fixture(scope="module")
def car_made(once: Once) -> Car:
    folder = small_car()
    sheets = {**folder.sheets, "option_links": Sheet(columns=COLUMNS, rows=ROWS)}
    with once():
        return load_car(folder=replace(folder, sheets=sheets), by=None)


def piece(cast: Cast, name: str) -> str:
    return cast.head.get(reverse("piece", args=(cast.car.slug, name))).content.decode()


def test_every_tie_of_an_option_stands_on_its_card(cast: Cast) -> None:
    door = piece(cast, "door finish")
    assert "destroys evidence, so it waits for brakes to be decided (chalk marks)" in door
    assert "needs carpet off, as may 1 other piece" in door
    assert "meets seats at a seam: at most 2 grades apart" in door


def test_what_comes_off_once_is_saved_once_in_the_choice(cast: Cast) -> None:
    answer = cast.head.get(reverse("choice", args=(cast.car.slug,)), headers=FRAGMENT)
    # Mended seats take 12 h of the trimmer and the kept door 6 h, 2 h of each for the carpet.
    assert answer.context["choice"].hours["trimmer"] == 16


def test_an_option_that_waits_is_open_once_the_other_piece_is_locked(cast: Cast) -> None:
    head = cast.head_person.user
    cast.car.subjects.filter(subject="door finish").update(min_grade=5)
    cast.car.briefs.create(content={"cost_max": None})
    address = reverse("choice", args=(cast.car.slug,))
    waiting = cast.head.get(address, headers=FRAGMENT).content.decode()
    assert "waits until brakes is decided: chalk marks" in waiting
    lock_option(car=cast.car, subject="brakes", option="renew", reason="seen", by=head)
    assert cast.head.get(address, headers=FRAGMENT).context["choice"].options["door finish"] == (
        "paint"
    )


def test_the_reason_tells_where_along_the_front_the_option_changes(cast: Cast) -> None:
    address = reverse("piece-why", args=(cast.car.slug, "brakes"))
    answer = cast.head.get(address, headers=FRAGMENT)
    assert [one.option for one in answer.context["along"]] == ["renew", "overhaul"]


def test_a_piece_says_beside_what_it_may_stay_and_beside_what_not(cast: Cast) -> None:
    """Mended seats reach 3; the kept door reaches 3 and a painted one 5, two grades apart."""
    address = reverse("piece", args=(cast.car.slug, "seats")) + "?whole=1"
    told = cast.head.get(address).content.decode()
    assert "door finish</a> (keep), 0 grades apart; at most 2 grades may stand." in told
    assert "Seen together." in told
    assert "Not beside" not in told
    narrow = Sheet(columns=COLUMNS, rows=((*ROWS[0][:-1], "1"),))
    folder = small_car()
    problem = choice_problem(replace(folder, sheets={**folder.sheets, "option_links": narrow}))
    chosen = {"seats": "mend", "brakes": "overhaul", "door finish": "keep"}
    (here,) = seams_now(problem, chosen, "seats")
    assert (here.other, here.barred) == ("door finish", ("paint (2 grades)",))
    (there,) = seams_now(problem, chosen, "door finish")
    assert there.barred == ("leave (2 grades)", "renew (2 grades)")
