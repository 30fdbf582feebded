"""Locks with their reasons, and dissent from them: who may, what stays, what the folder keeps."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.core.exceptions import PermissionDenied
from tests.pages.small_car import small_car

from asfound.__main__ import app
from asfound.base import InputError
from asfound.cli.app import run
from asfound.dossier.account import about_choice
from asfound.exchange import read_folder, write_folder
from asfound.record.actions import (
    can_dissent,
    create_account,
    grant_owner,
    load_car,
    lock_option,
    record_dissent,
    release_lock,
    release_room,
    restore_lock,
    restore_observation,
    withdraw_dissent,
)
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.locks import dissents_now, lock_reasons
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, Entry, Observation, Person
from asfound.record.models.release import OwnersRoom

REASON, WORDS = "the hide is the first one", "The foam is gone; they will tear within a year."


@pytest.fixture
def car(db: None) -> Car:
    return load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]


@pytest.fixture
def craft(db: None) -> Person:
    return create_account(username="trimmer", role="craftsperson", password="walnut-43", by=None)


@pytest.fixture
def locked(car: Car, head: Person) -> Car:
    lock_option(car=car, subject="seats", option="mend", reason=REASON, by=head.user)
    return car


def say(car: Car, person: Person) -> Observation:
    return record_dissent(car=car, subject="seats", words=WORDS, by=person.user)


def test_dissent_stands_beside_the_lock_with_name_and_words(locked: Car, craft: Person):
    say(locked, craft)
    ((said,),) = dissents_now(folder_of(locked)).values()
    assert (said.by, said.saying, said.option) == ("trimmer", WORDS, "mend")
    assert locked.decisions.current().get().option == "mend"
    assert Entry.objects.get(action="add dissent").by == craft.user


def test_who_locked_it_strangers_and_who_spoke_already_are_refused(
    locked: Car, head: Person, craft: Person, owner: Person
):
    with pytest.raises(InputError, match="another than who locked it"):
        say(locked, head)
    with pytest.raises(PermissionDenied):
        say(locked, owner)
    with pytest.raises(InputError, match="words"):
        record_dissent(car=locked, subject="seats", words=" ", by=craft.user)
    with pytest.raises(InputError, match="locked"):
        record_dissent(car=locked, subject="brakes", words=WORDS, by=craft.user)
    say(locked, craft)
    with pytest.raises(InputError, match="Withdraw yours first"):
        say(locked, craft)
    assert Observation.objects.filter(table="dissents").count() == 1


def test_an_owner_dissents_only_where_the_decisions_are_released(locked: Car, owner: Person):
    grant_owner(car=locked, owner=owner, by=None)
    assert not can_dissent(car=locked, subject="seats", by=owner.user)
    release_room(car=locked, room=OwnersRoom.DECISIONS, by=None)
    said = say(locked, owner)
    withdraw_dissent(dissent=said, reason="convinced", by=owner.user)
    assert dissents_now(folder_of(locked)) == {}


def test_only_the_one_who_said_it_withdraws_it_and_it_stays(
    locked: Car, head: Person, craft: Person
):
    said = say(locked, craft)
    with pytest.raises(PermissionDenied, match="Only the person"):
        withdraw_dissent(dissent=said, reason="noted", by=head.user)
    with pytest.raises(InputError, match="reason"):
        withdraw_dissent(dissent=said, reason="", by=craft.user)
    withdraw_dissent(dissent=said, reason="new foam is agreed", by=craft.user)
    said.refresh_from_db()
    assert (said.cells["words"], said.reason) == (WORDS, "new foam is agreed")
    assert dissents_now(folder_of(locked)) == {}
    with pytest.raises(PermissionDenied):
        restore_observation(observation=said, by=head.user)
    restore_observation(observation=said, by=craft.user)
    assert "seats" in dissents_now(folder_of(locked))


def test_dissent_speaks_of_the_lock_it_was_said_of(locked: Car, head: Person, craft: Person):
    say(locked, craft)
    released = release_lock(car=locked, subject="seats", reason="look again", by=head.user)
    assert dissents_now(folder_of(locked)) == {}
    lock_option(car=locked, subject="seats", option="renew", reason="torn", by=head.user)
    assert dissents_now(folder_of(locked)) == {}
    release_lock(car=locked, subject="seats", reason="slip", by=head.user)
    restore_lock(decision=released, by=head.user)
    assert "seats" in dissents_now(folder_of(locked))


def test_reasons_and_dissents_come_back_from_the_folder(locked: Car, craft: Person, tmp_path: Path):
    say(locked, craft)
    write_folder(folder_of(locked), tmp_path / "car")
    went = folder_of(locked)
    again = load_car(folder=read_folder(tmp_path / "car"), by=None, slug="again")
    came = folder_of(again)
    assert came.sheet("locks") == went.sheet("locks")
    assert came.sheet("dissents") == went.sheet("dissents")
    lock = again.decisions.current().get()
    assert (lock.reason, lock.who, lock.by) == (REASON, "head", None)
    assert lock_reasons(came)["seats"].words.startswith("locked by head on 2")


def test_a_reason_of_no_lock_is_a_fault_with_its_row(tmp_path: Path):
    folder = small_car()
    locks = Sheet(columns=("subject", "option", "reason"), rows=(("seats", "mend", REASON),))
    for name, sheets in (("with", folder.sheets), ("without", {})):
        write_folder(CarFolder(sheets={**sheets, "locks": locks}), tmp_path / name)
        with pytest.raises(InputFaultsError, match=r"locks\.csv, row 2"):
            read_folder(tmp_path / name)


def test_the_dossier_and_the_command_line_tell_both(
    locked: Car, craft: Person, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    say(locked, craft)
    folder = folder_of(locked)
    told = about_choice(folder, choice_problem(folder), choice_result(folder))
    pieces = {p["subject"]: p for zone in told["zones"] for p in zone["pieces"]}
    assert REASON in pieces["seats"]["lock"]
    assert WORDS in pieces["seats"]["dissents"][0]
    assert pieces["brakes"]["dissents"] == []
    write_folder(folder, tmp_path / "car")
    with pytest.raises(SystemExit):
        run(app, ["choose", str(tmp_path / "car")])
    told = capsys.readouterr().out
    assert REASON in told
    assert "dissent by trimmer" in told
