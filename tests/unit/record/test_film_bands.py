"""The workshop's table of film bands, and a band turned into evidence by a person."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from tests.unit.record.conftest import small_folder

from asfound.base import InputError
from asfound.measure.base_of_films import BANDS, FilmBand
from asfound.record.actions import (
    add_film_band,
    correct_film_band,
    create_account,
    load_car,
    take_back_band_evidence,
    use_band_as_evidence,
    withdraw_film_band,
)
from asfound.record.convert.film_base import band_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.years import built_years, middle_year
from asfound.record.first_bands import give_first_bands
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Person
from asfound.record.models import FilmBand as Row
from asfound.record.reads import bands_beside, film_bands, film_bands_gone

OURS = FilmBand(
    about="factory",
    era="1950s, finished by hand",
    low_um=420,
    high_um=math.inf,
    source="three invented cars of this workshop",
    status="measured in this workshop",
    marque="Orrin",
    first_year=1950,
    last_year=1959,
)


@pytest.fixture
def craft(db: None) -> Person:
    return create_account(username="craft", role="craftsperson", password="walnut-43", by=None)


def test_a_new_record_begins_with_the_bands_of_the_program(db: None):
    assert {band_of(row) for row in film_bands()} == set(BANDS)
    assert [row.about for row in film_bands()] == ["factory"] * 10 + ["repainted"] * 4 + (
        ["filler"] * 3
    )


def test_what_the_workshop_withdrew_does_not_come_back(head: Person):
    for row in film_bands():
        withdraw_film_band(row=row, reason="too loose", by=head.user)
    give_first_bands()
    assert film_bands() == []
    assert film_bands_gone().count() == len(BANDS)


def test_a_band_is_added_with_its_source_and_logged(head: Person):
    row = add_film_band(band=OURS, by=head.user)
    assert band_of(row) == OURS
    entry = Entry.objects.get(action="add film band")
    assert (entry.who, entry.after["source"], entry.after["high_um"]) == (
        "head",
        OURS.source,
        None,
    )
    with pytest.raises(InputError, match="has exactly this row already"):
        add_film_band(band=OURS, by=head.user)


def test_a_corrected_band_is_kept_behind_the_new_one(head: Person):
    row = add_film_band(band=OURS, by=head.user)
    new = correct_film_band(
        row=row, band=replace(OURS, low_um=440), reason="one more car", by=head.user
    )
    row.refresh_from_db()
    assert (row.superseded_by, row.low_um, row.reason) == (new, 420, "one more car")
    assert new in film_bands()
    assert row not in film_bands()
    entry = Entry.objects.get(action="correct film band")
    assert (entry.before["low_um"], entry.after["low_um"]) == (420, 440)
    assert check_chain().broken is None
    with pytest.raises(InputError, match="not corrected or withdrawn"):
        withdraw_film_band(row=row, reason="again", by=head.user)


def test_a_change_wants_a_reason(head: Person):
    row = add_film_band(band=OURS, by=head.user)
    with pytest.raises(InputError, match="reason"):
        withdraw_film_band(row=row, reason=" ", by=head.user)
    with pytest.raises(InputError, match="reason"):
        correct_film_band(row=row, band=replace(OURS, low_um=440), reason="", by=head.user)
    assert row in film_bands()


@pytest.mark.parametrize("who", ["craft", "owner"])
def test_the_head_alone_keeps_the_table(who: str, head: Person, request: pytest.FixtureRequest):
    user = request.getfixturevalue(who).user
    row = add_film_band(band=OURS, by=head.user)
    with pytest.raises(PermissionDenied):
        add_film_band(band=replace(OURS, low_um=1), by=user)
    with pytest.raises(PermissionDenied):
        correct_film_band(row=row, band=replace(OURS, low_um=1), reason="x", by=user)
    with pytest.raises(PermissionDenied):
        withdraw_film_band(row=row, reason="x", by=user)


def test_a_band_is_never_written_over_or_left_without_a_source(head: Person):
    row = add_film_band(band=OURS, by=head.user)
    row.low_um = 1
    with pytest.raises(TypeError, match="never overwritten"):
        row.save()
    with pytest.raises(TypeError, match="withdrawn, not deleted"):
        row.delete()
    with pytest.raises(IntegrityError), transaction.atomic():
        Row.objects.create(about="filler", era="any", low_um=1, source="", status="looked up")


def test_bands_beside_a_car_speak_of_its_year_and_marque(car: Car, head: Person):
    """The car is an Orrin of about 1958: no band of modern works stands beside it."""
    ours = add_film_band(band=OURS, by=head.user)
    others = add_film_band(band=replace(OURS, marque="Selvany"), by=head.user)
    beside = bands_beside(car)
    assert ours in beside
    assert others not in beside
    eras = {row.era for row in beside if row.about == "factory"}
    assert eras == {"older, when new", "1950s, finished by hand"}
    assert {row.low_um for row in beside if row.about == "filler"} == {300, 500, 1000}


@pytest.mark.parametrize(
    ("built", "years", "middle"),
    [
        ("1961", (1961, 1961), 1961),
        ("1958/1963", (1958, 1963), 1960.5),
        ("196X", (1960, 1969), 1964.5),
        ("../1970", (None, 1970), 1970),
        ("1960/..", (1960, None), 1960),
        ("", (None, None), None),
        ("before the war", (None, None), None),
    ],
)
def test_years_of_a_date(built: str, years: tuple, middle: float | None):
    assert (built_years(built), middle_year(years)) == (years, middle)


def _use(car: Car, row: Row, person: Person, **changed: object) -> dict[str, str]:
    given = {
        "subject": "bonnet",
        "read": "level 141 µm",
        "lr": 3.0,
        "basis": "guess",
        "reason": "thin for a repaint",
    }
    return use_band_as_evidence(car=car, row=row, by=person.user, **{**given, **changed})


def test_nothing_enters_the_evidence_by_itself(car: Car):
    assert bands_beside(car)
    assert "evidence" not in folder_of(car).sheets


def test_a_band_is_used_as_evidence_by_a_person(car: Car, craft: Person):
    row = next(row for row in bands_beside(car) if row.era == "older, when new")
    _use(car, row, craft)
    (found,) = folder_of(Car.objects.get()).sheet("evidence")
    assert dict(found.cells) == {
        "subject": "bonnet",
        "statement": "undisturbed since built",
        "alternative": "carries later work",
        "item": "level 141 µm; beside 152 to 203 µm for a factory finish (older, when new)",
        "lr": "3",
        "basis": "guess",
        "cause": "a trade weekly, 2010",
        "by": "craft",
        "note": "thin for a repaint",
    }
    assert Entry.objects.get(action="use film band as evidence").who == "craft"


def test_rows_of_one_source_share_their_cause(car: Car, craft: Person):
    """Items that share a cause are never multiplied: one source speaks once."""
    weekly = [row for row in bands_beside(car) if row.source == "a trade weekly, 2010"]
    assert {row.about for row in weekly} == {"factory", "repainted"}
    for row in weekly:
        _use(car, row, craft)
    assert {row.text("cause") for row in folder_of(car).sheet("evidence")} == {
        "a trade weekly, 2010"
    }


def test_evidence_of_the_folder_keeps_its_columns_and_rows(head: Person):
    written = small_folder()
    columns = ("subject", "statement", "alternative", "item", "lr", "basis", "found in")
    there = ("roof", "as built", "later", "a photo of 1960", "4", "experience", "attic")
    sheet = type(written.sheets["car"])(columns=columns, rows=(there,))
    car = load_car(folder=small_folder(sheets={**written.sheets, "evidence": sheet}), by=None)
    _use(car, bands_beside(car)[0], head)
    first, second = folder_of(car).sheet("evidence")
    assert [first.text(c) for c in columns] == list(there)
    assert first.text("cause") == ""
    assert (second.text("lr"), second.text("found in")) == ("3", "")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"lr": 0.0}, "above zero"),
        ({"lr": math.nan}, "above zero"),
        ({"lr": math.inf}, "above zero"),
        ({"basis": "measured"}, "data or guess"),
        ({"reason": " "}, "reason"),
        ({"subject": ""}, "subject"),
    ],
)
def test_evidence_that_cannot_be_is_refused(car: Car, head: Person, changed: dict, words: str):
    with pytest.raises(InputError, match=words):
        _use(car, bands_beside(car)[0], head, **changed)
    assert "evidence" not in folder_of(car).sheets


def test_one_item_is_entered_once_and_can_be_taken_back(car: Car, head: Person):
    row = bands_beside(car)[0]
    used = _use(car, row, head)
    with pytest.raises(InputError, match="not entered yet"):
        _use(car, row, head, lr=5.0)
    meant = {"car": car, "subject": "bonnet", "item": used["item"], "by": head.user}
    with pytest.raises(InputError, match="reason"):
        take_back_band_evidence(**meant, reason="")
    take_back_band_evidence(**meant, reason="typed for another panel")
    assert len(folder_of(car).sheet("evidence")) == 0
    entry = Entry.objects.get(action="take film band evidence back")
    assert entry.before["evidence"] == [used]
    with pytest.raises(InputError, match="among the car's evidence"):
        take_back_band_evidence(**meant, reason="again")


def test_a_withdrawn_band_or_an_owner_enters_nothing(car: Car, head: Person, owner: Person):
    row = bands_beside(car)[0]
    with pytest.raises(PermissionDenied):
        _use(car, row, owner)
    with pytest.raises(PermissionDenied):
        take_back_band_evidence(car=car, subject="bonnet", item="x", reason="x", by=owner.user)
    withdraw_film_band(row=row, reason="page is gone", by=head.user)
    with pytest.raises(InputError, match="not corrected or withdrawn"):
        _use(car, row, head)
