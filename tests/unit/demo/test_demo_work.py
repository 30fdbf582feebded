"""The work on the invented car: signed, begun, measured, photographed where it must be."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path

import pytest

from asfound.demo import demo_folder, shelf
from asfound.demo.pictures import drawings
from asfound.exchange.photographs import laid_pair
from asfound.record.convert.cards import cards_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.worked import stretch_of
from asfound.record.models import Car

NOW = datetime(2024, 4, 11, tzinfo=UTC)


@pytest.fixture
def car(db: None, tmp_path: Path, settings: object) -> Car:
    settings.ASFOUND_HOME = tmp_path  # type: ignore[attr-defined]
    stored = shelf.load_once()
    shelf.begin_work(stored, shelf.open_accounts(stored))
    return stored


def test_work_is_signed_begun_and_photographed(car: Car) -> None:
    order, first = car.proposals.signed()
    assert order.follows == first
    signed = {piece["subject"]: piece["option"] for piece in order.content["pieces"]}
    assert all(one.content["sums"]["weeks"] > 0 for one in car.proposals.all())
    decided = {one.subject: one for one in car.decisions.current()}
    assert {subject: decided[subject].option for subject in signed} == signed
    on = {decided[subject].decided_at for subject in signed}
    assert on == {first.signature.signed_at, order.signature.signed_at}
    cards = {card.task: card for card in cards_of(folder_of(car), now=NOW)}
    worked = [card for card in cards.values() if card.work.people]
    assert len(worked) > 10
    assert not any(card.work.running or card.work.unreadable_n for card in worked)
    stages = {(photo.subject, photo.stage) for photo in car.photos.current()}
    rows = folder_of(car).sheet("worked")
    excused = {row.text("subject") for row in rows if row.text("no_photo")}
    wanted = [card for card in worked if card.photos_wanted and card.work.done and card.is_last]
    assert {"carpet", "fuel tank"} <= {card.subject for card in wanted}
    for card in wanted:
        photographed = {(card.subject, "before"), (card.subject, "after")} <= stages
        assert photographed or card.subject in excused
    for card in worked:
        assert not card.waits, f"{card.task} was begun before {card.waits}"
    pictures_fit(car)


def pictures_fit(car: Car) -> None:
    """Every drawn picture is kept, of a thing of the car, and what is a pair can be laid over."""
    photos = car.photos.current()
    assert photos.count() == len(drawings())
    known = {"car", *car.panels.values_list("panel", flat=True)}
    known |= set(car.parts.values_list("part", flat=True))
    assert set(photos.values_list("subject", flat=True)) <= known
    assert all("invented" in photo.note for photo in photos)
    later = [photo for photo in photos if photo.pair]
    assert len(later) == 3
    for photo in later:
        earlier = photos.get(file=photo.pair)
        laid = laid_pair(before=earlier.sha256, after=photo.sha256)
        assert not laid.refusal
        assert laid.matches_n >= 25


def test_nobody_works_at_two_things_at_once() -> None:
    by_person: dict[str, list[tuple[datetime, datetime]]] = {}
    for row in demo_folder().sheet("worked"):
        one = stretch_of(row.cells)
        assert one.begun
        assert one.ended
        by_person.setdefault(one.person, []).append((one.begun, one.ended))
    for stretches in by_person.values():
        stretches.sort()
        for (_, ended), (begun, _) in pairwise(stretches):
            assert ended <= begun


def test_what_was_entered_is_marked_as_invented() -> None:
    for table in ("worked", "materials_used", "results", "holds"):
        rows = list(demo_folder().sheet(table))
        assert rows
        assert all("invented" in " ".join(row.cells.values()) for row in rows)
