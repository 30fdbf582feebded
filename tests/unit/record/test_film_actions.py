from collections.abc import Callable

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from django.db.models import QuerySet
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions import (
    correct_film_reading,
    import_film_rows,
    lock_option,
    set_brief,
    withdraw_film_reading,
)
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Entry, FilmReading, Person
from asfound.record.reads import readings_of_panel


def _film(car: Car) -> list[tuple[str, ...]]:
    return [row[:5] for row in folder_of(car).sheet("film").rows]


def _row(panel: str, thickness: str) -> dict[str, str]:
    return {"panel": panel, "spot": "N", "x_mm": "5", "y_mm": "6", "thickness_um": thickness}


def test_a_correction_stands_in_the_place_of_the_old_one_and_keeps_it(car: Car, head: Person):
    old = car.film_readings.get(thickness_um=142.5)
    new = correct_film_reading(reading=old, thickness_um=141, reason="slip", by=head.user)
    assert [row[4] for row in _film(car)] == ["140", "141", "150"]
    old.refresh_from_db()
    assert (old.thickness_um, old.superseded_by, old.reason) == (142.5, new, "slip")
    assert len(readings_of_panel(car, "bonnet")) == 3


def test_a_corrected_reading_cannot_be_corrected_again(car: Car, head: Person):
    old = car.film_readings.first()
    correct_film_reading(reading=old, thickness_um=141, reason="slip", by=head.user)
    with pytest.raises(InputError, match="corrected or withdrawn"):
        correct_film_reading(reading=old, thickness_um=139, reason="slip", by=head.user)


@pytest.mark.parametrize(
    ("thickness", "reason", "words"),
    [(-1, "slip", "zero or more"), (float("nan"), "slip", "finite"), (141, "  ", "few words")],
)
def test_an_unlawful_correction_changes_nothing(car: Car, thickness, reason, words):
    before = _film(car)
    with pytest.raises(InputError, match=words):
        correct_film_reading(
            reading=car.film_readings.first(), thickness_um=thickness, reason=reason, by=None
        )
    assert _film(car) == before


def test_a_withdrawn_reading_counts_no_longer_but_stays(car: Car, head: Person):
    reading = car.film_readings.get(panel="roof")
    withdraw_film_reading(reading=reading, reason="on the trim", by=head.user)
    assert [row[0] for row in _film(car)] == ["bonnet", "bonnet"]
    assert car.film_readings.count() == 3


def test_what_was_measured_cannot_be_written_over(car: Car):
    reading = car.film_readings.first()
    reading.thickness_um = 1
    for write in (
        reading.save,
        reading.delete,
        lambda: car.film_readings.update(thickness_um=1),
        lambda: car.film_readings.all().delete(),
    ):
        with pytest.raises(TypeError, match="observation"):
            write()
    assert car.film_readings.first().thickness_um == 140


def test_the_database_itself_refuses_a_negative_film(car: Car):
    with pytest.raises(IntegrityError), transaction.atomic():
        FilmReading.objects.create(
            car=car, position=9, panel="roof", x_mm=0, y_mm=0, thickness_um=-1
        )


def test_an_import_writes_all_rows_after_those_there(car: Car, head: Person):
    rows = [_row("roof", "151"), {**_row("bonnet", "144"), "gauge": "A"}]
    told = import_film_rows(car=car, rows=rows, by=head.user)
    assert (told.readings_n, told.spots_n, told.panels_n) == (2, 2, 2)
    assert [row[4] for row in _film(car)] == ["140", "142.5", "150", "151", "144"]
    film = folder_of(car).sheet("film")
    assert film.columns[-1] == "gauge"
    assert [row.text("gauge") for row in film] == ["", "", "", "", "A"]


@pytest.mark.parametrize("bad", [_row("door", "1"), _row("roof", "-4"), _row("roof", "thick")])
def test_one_bad_row_stops_the_whole_import(car: Car, bad):
    lines = Entry.objects.count()
    with pytest.raises(InputError):
        import_film_rows(car=car, rows=[_row("roof", "151"), bad], by=None)
    assert car.film_readings.count() == 3
    assert Entry.objects.count() == lines


def test_an_owner_writes_no_reading(car: Car, owner: Person):
    with pytest.raises(PermissionDenied):
        import_film_rows(car=car, rows=[_row("roof", "151")], by=owner.user)
    with pytest.raises(PermissionDenied):
        withdraw_film_reading(reading=car.film_readings.first(), reason="x", by=owner.user)
    assert car.film_readings.current().count() == 3


def test_a_column_that_another_import_added_meanwhile_is_kept(car: Car):
    mine = Car.objects.get(pk=car.pk)
    import_film_rows(car=car, rows=[{**_row("roof", "151"), "gauge": "A"}], by=None)
    import_film_rows(car=mine, rows=[{**_row("roof", "152"), "by": "someone"}], by=None)
    film = folder_of(Car.objects.get(pk=car.pk)).sheet("film")
    assert [(row.text("gauge"), row.text("by")) for row in film][-2:] == [
        ("A", ""),
        ("", "someone"),
    ]


def _writes(car: Car, head: Person) -> dict[str, Callable[[], object]]:
    first = car.film_readings.first()
    return {
        "import": lambda: import_film_rows(car=car, rows=[_row("roof", "1")], by=head.user),
        "correct": lambda: correct_film_reading(
            reading=first, thickness_um=1, reason="slip", by=head.user
        ),
        "withdraw": lambda: withdraw_film_reading(reading=first, reason="slip", by=head.user),
        "lock": lambda: lock_option(
            car=car, subject="bonnet", option="clean", reason="wish", by=head.user
        ),
        "brief": lambda: set_brief(car=car, content={}, by=head.user),
    }


@pytest.mark.parametrize("name", ["import", "correct", "withdraw", "lock", "brief"])
def test_two_people_at_once_take_turns_at_a_car(
    car: Car, head: Person, name: str, monkeypatch: pytest.MonkeyPatch
):
    """The row of the car is locked before anything is written, where the database can."""
    asked: list[bool] = []
    ask = QuerySet.select_for_update

    def told(rows: QuerySet, *args: object, **options: object) -> QuerySet:
        asked.append(rows.model is Car and not Entry.objects.filter(at__gt=start).exists())
        return ask(rows, *args, **options)

    write, start = _writes(car, head)[name], timezone.now()
    monkeypatch.setattr(QuerySet, "select_for_update", told)
    write()
    assert asked == [True]
