"""What was started is fixed: by whom it is held, how it is changed, and what is no beginning."""

from __future__ import annotations

import pytest
from tests.pages.small_car import small_car

from asfound.base import InputError
from asfound.choose import choose, explain, find_clash, notices
from asfound.record.actions import (
    add_observations,
    load_car,
    lock_option,
    release_lock,
    send_proposal,
    set_sheet,
    withdraw_observation,
)
from asfound.record.actions.worked import start_work
from asfound.record.convert.begun import begun_pieces
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, chosen_now
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, Entry, Person

SEWING = {"task": "S1", "subject": "seats", "person": "Issy", "from_at": "2026-11-25T08:00:00Z"}


@pytest.fixture
def car(db: None) -> Car:
    return load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]


def worked(*rows: tuple[str, str, str]) -> CarFolder:
    sheet = Sheet(
        columns=("task", "subject", "person", "from_at"),
        rows=tuple((task, subject, "Issy", at) for task, subject, at in rows),
    )
    return CarFolder(sheets={"worked": sheet})


def test_the_first_beginning_counts_and_taking_off_is_none():
    found = begun_pieces(
        worked(
            ("S2", "seats", "2026-11-26T08:00:00Z"),
            ("S1", "seats", "2026-11-25T08:00:00Z"),
            ("bonnet: off", "bonnet", "2026-11-20T08:00:00Z"),
            ("bonnet: on", "bonnet", "2026-11-21T08:00:00Z"),
            ("B1", "brakes", "in the morning"),
            ("T1", "", "2026-11-21T08:00:00Z"),
        )
    )
    assert {name: one.words for name, one in found.items()} == {
        "seats": "work began on 2026-11-25, by Issy",
        "brakes": "work began, by Issy",
    }


def test_the_solver_holds_what_was_begun_and_says_why(car: Car):
    """Without the lock the choice would mend the seats (worked by hand in the page tests)."""
    assert chosen_now(folder_of(car)).options["seats"] == "mend"
    lock_option(car=car, subject="seats", option="renew", reason="torn", by=None)
    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    result = choice_result(folder_of(car))
    assert result.choice is not None
    assert result.choice.options["seats"] == "renew"
    why = next(one for one in result.whys if one.subject == "seats")
    assert why.because.startswith("work began on 2026-11-25, by Issy")
    assert why.flips_when == "when the owner signs a change order"


def test_a_clash_with_what_was_begun_says_so(car: Car):
    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    lock_option(car=car, subject="seats", option="leave", reason="as it is", by=None)
    clash = find_clash(choice_problem(folder_of(car)))
    assert clash is not None
    assert any("work began on 2026-11-25, by Issy" in one.words for one in clash.requirements)


def test_what_was_begun_is_neither_released_nor_locked_otherwise(car: Car):
    lock_option(car=car, subject="seats", option="mend", reason="agreed", by=None)
    (row,) = add_observations(car=car, table="worked", rows=[SEWING], by=None)
    with pytest.raises(InputError, match="work began on 2026-11-25, by Issy"):
        release_lock(car=car, subject="seats", reason="after all", by=None)
    with pytest.raises(InputError, match="change order"):
        lock_option(car=car, subject="seats", option="renew", reason="after all", by=None)
    withdraw_observation(observation=row, reason="wrong card", by=None)
    release_lock(car=car, subject="seats", reason="after all", by=None)
    assert not car.decisions.current().exists()


def test_what_was_begun_undecided_can_be_locked_once(car: Car):
    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    (told,) = (w for w in notices(choice_problem(folder_of(car))) if "seats" in w)
    assert "no option of it is locked" in told
    lock_option(car=car, subject="seats", option="renew", reason="what is being done", by=None)
    with pytest.raises(InputError, match="nothing has begun"):
        lock_option(car=car, subject="seats", option="mend", reason="x", by=None)


def test_to_begin_fixes_what_is_chosen_and_never_what_a_person_locked(car: Car, head: Person):
    start_work(car=car, cells=SEWING, by=head.user, holds="mend")
    assert car.decisions.current().get(subject="seats").reason == "work began: S1"
    assert Entry.objects.filter(car=car, action="lock option").count() == 1
    lock_option(car=car, subject="brakes", option="renew", reason="cracked", by=head.user)
    start_work(car=car, cells={**SEWING, "subject": "brakes", "task": "B1"}, by=None, holds="mend")
    assert car.decisions.current().get(subject="brakes").option == "renew"


def test_a_first_proposal_cannot_change_what_was_begun(car: Car, head: Person):
    lock_option(car=car, subject="seats", option="mend", reason="agreed", by=None)
    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    content = {"pieces": [{"subject": "seats", "option": "renew", "begun": "x"}]}
    with pytest.raises(InputError, match="seats: work began"):
        send_proposal(
            car=car,
            title="Other",
            words="",
            content=content,
            document=b"x",
            number=1,
            sent_at=car.entries.latest("at").at,
            by=head.user,
        )


def test_what_is_finished_is_held_like_what_was_begun(car: Car):
    row = {"subject": "seats", "done_on": "2026-12-03", "kept": "0.8", "by": "Issy", "note": ""}
    set_sheet(car=car, table="as_left", rows=[row], by=None)
    assert begun_pieces(folder_of(car))["seats"].words == (
        "work was finished on 2026-12-03, by Issy"
    )


def test_hours_that_go_on_do_not_ask_for_a_new_choice(car: Car, monkeypatch: pytest.MonkeyPatch):
    """A car with hundreds of pieces is not chosen anew with every pause."""
    lock_option(car=car, subject="seats", option="mend", reason="agreed", by=None)
    add_observations(car=car, table="worked", rows=[SEWING], by=None)
    first = chosen_now(folder_of(car))
    monkeypatch.setattr("asfound.record.derived.choice.choose", lambda problem: pytest.fail("anew"))
    later = {**SEWING, "from_at": "2026-11-26T08:00:00Z"}
    add_observations(car=car, table="worked", rows=[later], by=None)
    assert chosen_now(folder_of(car)) == first


def test_reasons_of_a_folder_alone():
    """As ``asfound choose FOLDER`` has it: no record, no person."""
    folder = small_car()
    subjects = folder.sheet("subjects")
    held = Sheet(
        columns=subjects.columns,
        rows=tuple((*row[:-1], "renew" if row[0] == "seats" else "") for row in subjects.rows),
    )
    work = worked(("S1", "seats", "2026-11-25T08:00:00Z")).sheets
    problem = choice_problem(
        CarFolder(sheets={**folder.sheets, "subjects": held, **work}, brief=folder.brief)
    )
    choice = choose(problem)
    assert choice.options["seats"] == "renew"
    why = next(one for one in explain(problem, choice) if one.subject == "seats")
    assert "held to 'renew'" in why.because
