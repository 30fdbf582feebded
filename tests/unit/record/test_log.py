"""The log of writes: a chain in which a change, a gap and a cut show."""

from __future__ import annotations

import hashlib
import json

import pytest
from django.db import DatabaseError, connection, transaction

from asfound.record.actions import create_account, set_brief
from asfound.record.log import START, check_chain, head_hash, write_entry
from asfound.record.models import Car, Entry, Person


def tamper(statement: str, *values: object) -> None:
    """Do what somebody with the database in hand could do: past the triggers."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("DROP TRIGGER IF EXISTS record_entry_no_update")
            cursor.execute("DROP TRIGGER IF EXISTS record_entry_no_delete")
        else:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
            cursor.execute("ALTER TABLE record_entry DISABLE TRIGGER record_entry_append_only")
        cursor.execute(statement, values)


@pytest.fixture
def lines(car: Car, head: Person) -> list[Entry]:
    for cost in (1_000, 1_200, 900):
        set_brief(car=car, content={"cost_max": cost}, by=head.user)
    return list(Entry.objects.order_by("pk"))


def test_a_whole_log_ends_at_the_hash_of_its_last_line(lines: list[Entry]):
    chain = check_chain()
    assert (chain.broken, chain.wrong, chain.lines_n) == (None, "", len(lines))
    assert chain.head == lines[-1].hash == head_hash()


def test_an_empty_log_has_the_start_as_its_head(db: None):
    chain = check_chain(heads=frozenset({START}))
    assert (chain.lines_n, chain.head, chain.heads_met) == (0, START, frozenset({START}))


def test_the_hash_is_that_of_the_line_as_json_with_sorted_keys(lines: list[Entry]):
    line = lines[-1]
    told = {
        "action": "set brief",
        "after": {"cost_max": 900},
        "at": line.at.isoformat(),
        "before": {"cost_max": 1200},
        "car": line.car_id,
        "previous": lines[-2].hash,
        "who": "head",
    }
    text = json.dumps(told, separators=(",", ":"))
    assert line.hash == hashlib.sha256(text.encode()).hexdigest()


def test_a_line_that_was_changed_shows(lines: list[Entry]):
    tamper("UPDATE record_entry SET who = %s WHERE id = %s", "somebody", lines[2].pk)
    chain = check_chain()
    assert chain.broken == lines[2]
    assert "changed" in chain.wrong


def test_a_line_that_was_taken_out_shows_at_the_next(lines: list[Entry]):
    tamper("DELETE FROM record_entry WHERE id = %s", lines[1].pk)
    chain = check_chain()
    assert chain.broken == lines[2]
    assert "taken out" in chain.wrong


def test_an_end_that_was_cut_off_shows_by_a_head_noted_before(lines: list[Entry]):
    noted = head_hash()
    tamper("DELETE FROM record_entry WHERE id = %s", lines[-1].pk)
    assert check_chain().broken is None
    chain = check_chain(heads=frozenset({noted, lines[0].hash}))
    assert chain.heads_met == {lines[0].hash}


@pytest.mark.parametrize(
    "statement", ["UPDATE record_entry SET who = 'somebody'", "DELETE FROM record_entry"]
)
def test_the_database_refuses_too(lines: list[Entry], statement: str):
    with (
        pytest.raises(DatabaseError, match="append-only"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)
    assert check_chain().broken is None
    assert Entry.objects.count() == len(lines)


@pytest.mark.parametrize(
    "number", [-0.0, 1e16, 1.7976931348623157e308, 5e-324, 0.1, 140.0, 123456789012345680.0]
)
def test_numbers_of_any_size_keep_their_hash_on_either_database(db: None, number: float):
    write_entry(action="try", by=None, before={"x": [number]}, after=number)
    assert check_chain().broken is None
    line = Entry.objects.get()
    assert line.after == number
    assert line.before == {"x": [number]}


def test_who_made_the_account_stands_in_the_line(head: Person):
    create_account(username="new", role="craftsperson", password="walnut-44", by=head.user)
    assert Entry.objects.last().who == "head"
