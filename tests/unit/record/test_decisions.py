import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction

from asfound.base import InputError
from asfound.record.actions import NO_BRIEF, lock_option, release_lock, set_brief
from asfound.record.convert.stored import folder_of
from asfound.record.faults import ChangedMeanwhileError
from asfound.record.models import Car, Decision, Person
from asfound.record.reads import brief_of


def _lock(car: Car, person: Person, option: str) -> Decision:
    return lock_option(
        car=car, subject="bonnet", option=option, reason="owner's wish", by=person.user
    )


def test_a_lock_shows_in_the_folder_even_where_no_subject_was_listed(car: Car, head: Person):
    _lock(car, head, "clean")
    sheet = folder_of(car).sheet("subjects")
    assert sheet.columns == ("subject", "weight", "min_grade", "locked_option")
    assert sheet.rows == (("bonnet", "", "", "clean"),)


def test_the_latest_lock_counts_and_the_older_is_kept(car: Car, head: Person):
    first, second = _lock(car, head, "clean"), _lock(car, head, "refinish")
    assert list(car.decisions.current()) == [second]
    first.refresh_from_db()
    assert first.withdrawn_by == head.user


def test_a_released_lock_is_kept_with_both_reasons(car: Car, head: Person):
    _lock(car, head, "clean")
    release_lock(car=car, subject="bonnet", reason="new quote", by=head.user)
    assert "subjects" not in folder_of(car).sheets
    kept = car.decisions.get()
    assert (kept.reason, kept.withdrawn_reason) == ("owner's wish", "new quote")


def test_two_locks_of_one_subject_cannot_both_count(car: Car, head: Person):
    _lock(car, head, "clean")
    with pytest.raises(IntegrityError), transaction.atomic():
        Decision.objects.create(car=car, subject="bonnet", option="refinish", reason="x")


@pytest.mark.parametrize(
    ("subject", "option", "words"),
    [("bonnet", "gild", "subject's options"), ("roof", "leave", "safe")],
)
def test_what_cannot_be_locked(car: Car, head: Person, subject, option, words):
    with pytest.raises(InputError, match=words):
        lock_option(car=car, subject=subject, option=option, reason="x", by=head.user)
    assert not car.decisions.exists()


def test_a_lock_wants_a_reason_and_a_release_a_lock(car: Car, head: Person):
    with pytest.raises(InputError, match="reason"):
        lock_option(car=car, subject="bonnet", option="clean", reason=" ", by=head.user)
    with pytest.raises(InputError, match="locked"):
        release_lock(car=car, subject="bonnet", reason="x", by=head.user)


def test_an_owner_decides_nothing_here(car: Car, owner: Person):
    with pytest.raises(PermissionDenied):
        _lock(car, owner, "clean")
    with pytest.raises(PermissionDenied):
        set_brief(car=car, content={"cost_max": 1}, by=owner.user)
    assert brief_of(car) is None


def test_the_latest_brief_counts_and_the_older_is_kept(car: Car, head: Person):
    set_brief(car=car, content={"cost_max": 9000}, by=head.user)
    set_brief(car=car, content={"cost_max": None, "hours_max": {"paint": 40}}, by=head.user)
    assert folder_of(car).brief == {"cost_max": None, "hours_max": {"paint": 40}}
    assert brief_of(car).hours_max == {"paint": 40.0}
    assert [brief.cost_max for brief in car.briefs.all()] == [9000.0, None]


def test_a_brief_that_was_not_seen_is_not_written_over(car: Car, head: Person):
    first = set_brief(car=car, content={"cost_max": 9000}, by=head.user, seen=NO_BRIEF)
    set_brief(car=car, content={"cost_max": 8000}, by=head.user, seen=first.pk)
    for seen in (NO_BRIEF, first.pk):
        with pytest.raises(ChangedMeanwhileError):
            set_brief(car=car, content={"cost_max": 1}, by=head.user, seen=seen)
    assert brief_of(car).cost_max == 8000
    set_brief(car=car, content={"cost_max": 9000}, by=head.user)
    set_brief(car=car, content={"cost_max": 7000}, by=head.user, seen=first.pk)
    assert brief_of(car).cost_max == 7000
