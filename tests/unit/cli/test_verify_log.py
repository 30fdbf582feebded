"""``asfound verify-log``: the chain checked from the command line."""

from __future__ import annotations

import json
from unittest import mock

import pytest
from tests.unit.record.test_log import tamper

from asfound.__main__ import app
from asfound.cli.app import run
from asfound.record.actions import create_account
from asfound.record.log import head_hash
from asfound.record.models import Entry


def code(*arguments: str) -> int:
    with pytest.raises(SystemExit) as left, mock.patch("asfound.site.migrate"):
        run(app, ["verify-log", *arguments])
    return int(left.value.code or 0)


@pytest.fixture
def lines(db: None) -> list[Entry]:
    for name in ("head", "mechanic", "trimmer"):
        create_account(username=name, role="head", password="walnut-41", by=None)
    return list(Entry.objects.order_by("pk"))


def test_a_whole_log_says_how_long_and_its_head(lines, capsys: pytest.CaptureFixture[str]):
    assert code("--head", lines[0].hash) == 0
    out, err = capsys.readouterr()
    assert out.split()[:4] == ["lines", "3", "head", lines[-1].hash]
    assert f"found  {lines[0].hash}" in out
    assert err == ""


def test_a_broken_log_ends_with_3_and_says_where(lines, capsys: pytest.CaptureFixture[str]):
    tamper("UPDATE record_entry SET action = 'nothing' WHERE id = %s", lines[1].pk)
    assert code() == 3
    assert f"broken at line {lines[1].pk}" in capsys.readouterr().err
    assert code("--json") == 3
    told = json.loads(capsys.readouterr().out)
    assert told["whole"] is False
    assert told["broken"]["line"] == lines[1].pk


def test_a_log_that_was_cut_off_ends_with_3(lines, capsys: pytest.CaptureFixture[str]):
    noted = head_hash()
    tamper("DELETE FROM record_entry WHERE id = %s", lines[-1].pk)
    assert code() == 0
    assert code("--head", noted) == 3
    assert "are gone" in capsys.readouterr().err
    assert code("--head", noted, "--json") == 3
    assert json.loads(capsys.readouterr().out)["heads_not_found"] == [noted]


def test_what_is_no_head_is_wrong_use(db: None):
    assert code("--head", "abc") == 2
