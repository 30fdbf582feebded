"""A matching is kept by name and head, once, with a line in the log."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.record.actions import forget_file_match, remember_file_match
from asfound.record.models import Entry, FileMatch
from asfound.record.reads.file_matches import file_matches_of

HEAD = ("Point", "Layer")

pytestmark = pytest.mark.django_db


def remember(name: str, **changes: object) -> FileMatch:
    said = {"table": "film", "head": HEAD, "places": {"spot": 0}, "fixed": {"gauge": "blue"}}
    return remember_file_match(**{"name": name, "by": None, **said, **changes})  # type: ignore[arg-type]  # as said


def test_it_is_found_by_its_head_whatever_the_case_the_latest_first() -> None:
    remember("red")
    remember("blue")
    remember("other", head=("Layer", "Point"))
    remember("sheet metal", table="metal")
    found = file_matches_of("film", (" POINT", "layer "))
    assert [match.name for match in found] == ["blue", "red"]


def test_the_same_name_and_head_are_kept_once_and_anew() -> None:
    remember("blue")
    remember(" blue ", places={"spot": 1}, decimal=",")
    (match,) = FileMatch.objects.all()
    assert (match.places, match.decimal) == ({"spot": 1}, ",")
    assert list(Entry.objects.order_by("pk").values_list("action", flat=True)) == [
        "remember file",
        "remember file anew",
    ]


def test_a_name_is_needed() -> None:
    with pytest.raises(InputError, match="name"):
        remember("  ")


def test_what_is_forgotten_is_offered_no_more_and_stands_in_the_log() -> None:
    forget_file_match(match=remember("blue"), by=None)
    assert file_matches_of("film", HEAD) == []
    last = Entry.objects.order_by("-pk").first()
    assert last is not None
    assert last.before["name"] == "blue"
