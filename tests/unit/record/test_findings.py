"""Findings of the record: from rows, found by words, their versions, the kinds of the workshop."""

from __future__ import annotations

import pytest
import shapely
from django.core.exceptions import PermissionDenied
from tests.unit.record.conftest import small_folder

from asfound.base import InputError
from asfound.record.actions import (
    add_finding_kind,
    add_observations,
    add_parts,
    correct_observation,
    load_car,
    withdraw_finding_kind,
    withdraw_observation,
)
from asfound.record.convert.findings import area_words, finding_of, findings_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.stored_near import folder_near
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Observation, Person
from asfound.record.reads.findings import (
    findings_on,
    findings_on_photo,
    found_by_words,
    kinds_offered,
    versions_of,
)

RUST = {
    "subject": "sill",
    "kind": "perforation",
    "extent": "60 × 25 mm",
    "severity": "3",
    "x_mm": "120",
    "y_mm": "40",
    "outline_wkt": "POLYGON ((100 30, 160 30, 160 55, 100 55, 100 30))",
    "photo": "photos/a.jpg; photos/b.jpg",
    "photo_marks": '[{"kind": "ring", "points": [[0.2, 0.2], [0.4, 0.5]], "words": ""}]',
    "found_on": "2031-04-02",
    "found_by": "trimmer",
    "note": "below the drain",
}
OPINION = {
    "opinion": "water stood in the sill",
    "active": "yes",
    "advice": "dry it and treat it before it is painted",
    "opinion_by": "head",
    "opinion_on": "2031-04-05",
}


@pytest.mark.django_db
class TestStored:
    @pytest.fixture
    def car(self) -> Car:
        return load_car(folder=small_folder(), by=None)

    def add(self, car: Car, **cells: str) -> Observation:
        row = {"subject": "sill", "kind": "dent", "extent": "a spot", "severity": "1", **cells}
        (made,) = add_observations(car=car, table="findings", rows=[row], by=None)
        return made

    def test_every_cell_comes_back_as_it_was_written(self, car: Car) -> None:
        self.add(car, **RUST, **OPINION)
        (found,) = folder_of(car).sheet("findings")
        assert {**RUST, **OPINION}.items() <= dict(found.cells).items()

    def test_every_word_is_sought_in_cells_and_in_the_name_of_the_part(self, car: Car) -> None:
        (seat,) = add_parts(car=car, rows=[{"name": "driver's seat"}], by=None)
        rust = self.add(car, **RUST)
        seam = self.add(car, subject=seat.part, kind="seam open", severity="2")
        for words, found in (
            ("perf drain", [rust]),
            ("SEAT", [seam]),
            ("seat seam", [seam]),
            ("seat drain", []),
            ("", [rust, seam]),
        ):
            assert list(found_by_words(car, words)) == found, words

    def test_they_are_listed_from_a_severity_on_and_in_the_order_asked_for(self, car: Car) -> None:
        mild, grave = self.add(car, severity="1"), self.add(car, subject="bonnet", severity="4")
        middle = self.add(car, severity="2.5")
        assert list(found_by_words(car)) == [grave, middle, mild]
        assert list(found_by_words(car, order="newest")) == [middle, grave, mild]
        assert list(found_by_words(car, order="subject")) == [grave, mild, middle]
        assert list(found_by_words(car, least=2)) == [grave, middle]

    def test_of_another_car_and_those_withdrawn_are_not_found(self, car: Car) -> None:
        other = Car.objects.create(slug="other", heads={})
        self.add(other)
        gone = self.add(car)
        withdraw_observation(observation=gone, reason="a shadow", by=None)
        assert not found_by_words(car)
        assert not findings_on(car, "sill")

    def test_versions_are_told_from_any_of_them_and_not_those_of_others(self, car: Car) -> None:
        self.add(car)
        first = self.add(car, kind="rust")
        second = correct_observation(
            observation=first, cells={"kind": "perforation"}, reason="awl went in", by=None
        )
        third = correct_observation(observation=second, cells=OPINION, reason="opinion", by=None)
        for one in (first, second, third):
            one.refresh_from_db()
            assert versions_of(one) == [third, second, first]

    def test_the_log_calls_them_findings(self, car: Car) -> None:
        row = self.add(car)
        row = correct_observation(observation=row, cells={"kind": "bent"}, reason="so", by=None)
        withdraw_observation(observation=row, reason="no", by=None)
        told = list(Entry.objects.order_by("-pk").values_list("action", flat=True)[:3])
        assert told == ["withdraw finding", "correct finding", "add findings"]

    def test_a_photograph_knows_the_findings_that_name_it(self, car: Car) -> None:
        rust, other = self.add(car, **RUST), self.add(car, photo="photos/a.jpg.png")
        assert findings_on_photo(car, "photos/b.jpg") == [rust]
        assert findings_on_photo(car, "photos/a.jpg") == [rust]
        assert findings_on_photo(car, "photos/a.jpg.png") == [other]
        assert findings_on_photo(car, "") == []

    def test_near_one_part_only_its_own_rows_are_read(self, car: Car) -> None:
        seat, horn = add_parts(car=car, rows=[{"name": "seat"}, {"name": "horn"}], by=None)
        self.add(car, subject=seat.part, kind="seam open")
        self.add(car, subject=horn.part)
        near, whole = folder_near(car, seat.part), folder_of(car)
        assert [row.text("part") for row in near.sheet("parts")] == [seat.part]
        assert findings_of(near) == findings_of(whole, subject=seat.part)
        assert near.sheet("panels") == whole.sheet("panels")
        assert near.sheet("film") == whole.sheet("film")

    def test_kinds_met_on_the_car_are_offered_first_then_the_workshop_s(self, car: Car) -> None:
        for kind in ("seam open", "seam open", "hem unstitched"):
            self.add(car, kind=kind)
        add_finding_kind(word="  piping  worn ", group="cloth and leather", by=None)
        words = [kind.word for kind in kinds_offered(car)]
        assert words[:3] == ["seam open", "hem unstitched", "piping worn"]
        assert words.count("seam open") == 1
        assert "surface rust" in words[3:]

    def test_a_kind_is_added_once_and_withdrawn_with_a_reason(self, car: Car) -> None:
        made = add_finding_kind(word="piping worn", by=None)
        for again in ("Piping worn", "surface rust", " "):
            with pytest.raises(InputError):
                add_finding_kind(word=again, by=None)
        with pytest.raises(InputError, match="reason"):
            withdraw_finding_kind(kind=made, reason=" ", by=None)
        withdraw_finding_kind(kind=made, reason="we say worn thin", by=None)
        assert "piping worn" not in [kind.word for kind in kinds_offered(car)]
        with pytest.raises(InputError, match="still offered"):
            withdraw_finding_kind(kind=made, reason="again", by=None)
        actions = set(Entry.objects.values_list("action", flat=True))
        assert {"add kind of finding", "withdraw kind of finding"} <= actions
        assert check_chain().broken is None

    def test_an_owner_adds_no_kind(self, owner: Person) -> None:
        with pytest.raises(PermissionDenied):
            add_finding_kind(word="pretty", by=owner.user)


def test_a_row_becomes_a_finding_with_its_opinion_apart() -> None:
    found = finding_of({**RUST, **OPINION})
    assert found.step.word == "serious"
    assert found.place_mm == (120.0, 40.0)
    assert found.outline is not None
    assert found.outline.area == 60 * 25
    assert found.photos == ("photos/a.jpg", "photos/b.jpg")
    assert found.marks[0].points == ((0.2, 0.2), (0.4, 0.5))
    assert found.opinion is not None
    assert (found.opinion.by, found.opinion.active_words) == ("head", "still going on")
    assert finding_of(RUST).opinion is None


def test_a_row_from_another_program_that_cannot_be_drawn_is_still_a_finding() -> None:
    odd = {**RUST, "outline_wkt": "POLYGON EMPTY", "photo_marks": "no marks", "severity": "2.5"}
    found = finding_of(odd)
    assert (found.outline, found.marks, found.step.grade) == (None, (), 3)


def test_findings_of_a_folder_stand_in_the_order_of_the_table() -> None:
    assert findings_of(small_folder()) == ()


@pytest.mark.parametrize(
    ("wide_mm", "high_mm", "words"),
    [(60, 25, "15 cm² outlined"), (300, 200, "6 dm² outlined"), (2, 2, "0.1 cm² outlined")],
)
def test_an_area_is_told_in_cm2_and_dm2(wide_mm: float, high_mm: float, words: str) -> None:
    assert area_words(shapely.box(0, 0, wide_mm, high_mm)) == words
