"""A folder out of the record is planned by itself; back in the same workshop nobody is twice."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from tests.unit.cli.asked import code
from tests.unit.cli.test_plan import BAYS, LINKS, PEOPLE, TASKS

from asfound.exchange import read_folder, write_folder
from asfound.exchange.sheet import read_sheet
from asfound.record.actions import load_car
from asfound.record.actions.workshop import set_workshop
from asfound.record.convert.carried import returned
from asfound.record.convert.shop import CarAtWork, shop_tables
from asfound.record.convert.stored import folder_of, whole
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, Workshop
from asfound.record.reads.workshop import planning_folder, workshop_sheets
from asfound.record.tables import TABLES

pytestmark = pytest.mark.django_db

CAR = "marque,model,body_style,built\nInvented,A,saloon,1961\n"
MORE_PEOPLE = PEOPLE + "Cy,trim,8,,\n"
MORE_BAYS = BAYS + "lift,2\n"


def _sheet(table: str, text: str) -> Sheet:
    sheet, faults = read_sheet(text.encode(), TABLES[table], file=f"{table}.csv")
    assert faults == []
    return sheet


def _rows(table: str, text: str) -> list[dict[str, str]]:
    return [dict(row.cells) for row in _sheet(table, text)]


@pytest.fixture
def car() -> Car:
    """A car of a workshop with one more person and one more bay than it asks for."""
    people = [row | {"signs_in_as": "ann"} for row in _rows("people", MORE_PEOPLE)]
    set_workshop(table="people", rows=people, by=None)
    set_workshop(table="bays", rows=_rows("bays", MORE_BAYS), by=None)
    set_workshop(table="closed_days", rows=[{"days": "2026-03-09", "why": "fair"}], by=None)
    sheets = {"car": CAR, "tasks": TASKS, "task_links": LINKS}
    folder = CarFolder(sheets={name: _sheet(name, text) for name, text in sheets.items()})
    return load_car(folder=folder, by=None, slug="a")


def _dump(place: Path, *more: str) -> Path:
    assert code("dump", "a", str(place), *more) == 0
    return place


def _plan(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    capsys.readouterr()
    assert code("plan", *arguments, "--json") == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def _load(place: Path, *, slug: str = "a") -> Car:
    return load_car(folder=read_folder(place), by=None, slug=slug, replace=True)


def test_a_folder_carries_who_and_what_its_plan_asks_for(car: Car, tmp_path: Path) -> None:
    told = read_folder(_dump(tmp_path / "out"))
    assert [row.text("person") for row in told.sheet("people")] == ["Ann", "Bo"]
    assert [row.text("bay") for row in told.sheet("bays")] == ["bench", "booth"]
    assert [row.text("days") for row in told.sheet("closed_days")] == ["2026-03-09"]
    assert not any(row.text("signs_in_as") for row in told.sheet("people"))


def test_it_is_planned_by_itself_as_with_the_whole_workshop(
    car: Car, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_folder(whole(folder_of(car)), tmp_path / "bare")
    shop = tmp_path / "shop"
    write_folder(CarFolder(sheets=workshop_sheets()), shop)
    alone = _plan(capsys, str(_dump(tmp_path / "out")))
    assert alone == _plan(capsys, str(tmp_path / "bare"), "--shop", str(shop))


def test_back_in_the_workshop_nobody_is_twice_and_the_car_is_as_it_was(
    car: Car, tmp_path: Path
) -> None:
    was = whole(folder_of(car))
    again = _load(_dump(tmp_path / "out"))
    assert whole(folder_of(again)) == was
    assert Workshop.objects.count() == 3  # as the fixture wrote it
    other = _load(tmp_path / "out", slug="b")
    cars = [CarAtWork(name=c.slug, folder=planning_folder(c)) for c in (again, other)]
    tables, faults = shop_tables(cars)
    assert faults == []
    assert [row.text("person") for row in tables["people"]] == ["Ann", "Bo", "Cy"]


def test_what_changed_in_the_workshop_meanwhile_stands(car: Car, tmp_path: Path) -> None:
    place = _dump(tmp_path / "out")
    rows = [row for row in _rows("people", MORE_PEOPLE) if row["person"] != "Bo"]
    set_workshop(table="people", rows=[{**rows[0], "hours_per_day": "6"}], by=None)
    told = returned(read_folder(place), workshop_sheets())
    assert told.gone == (("people", "Bo"),)
    assert "Not in the workshop's tables any more: Bo" in told.words()
    people = list(planning_folder(_load(place)).sheet("people"))
    assert [(row.text("person"), row.text("hours_per_day")) for row in people] == [("Ann", "6")]


def test_what_somebody_wrote_into_the_folder_is_kept_as_the_car_s_own(
    car: Car, tmp_path: Path
) -> None:
    place = _dump(tmp_path / "out")
    text = (place / "people.csv").read_text()
    assert "Ann,panel,8" in text
    (place / "people.csv").write_text(text.replace("Ann,panel,8", "Ann,panel,4"))
    again = _load(place)
    assert next(iter(folder_of(again).sheet("people"))).text("hours_per_day") == "4"
    assert "bays" not in folder_of(again).sheets  # nobody wrote there


def test_a_record_without_a_workshop_plans_by_what_came(car: Car, tmp_path: Path) -> None:
    place = _dump(tmp_path / "out")
    Workshop.objects.all().delete()
    again = folder_of(_load(place))
    assert [row.text("person") for row in again.sheet("people")] == ["Ann", "Bo"]
    assert dict(again.package) == {}
    write_folder(whole(again), tmp_path / "once more")
    told = read_folder(tmp_path / "once more")
    assert told.sheet("people") == again.sheet("people")


@pytest.mark.parametrize(
    ("table", "text"),
    [("people", PEOPLE.replace("Ann", "Own Ann")), ("bays", BAYS.replace("1", "3"))],
)
def test_a_table_of_the_car_s_own_goes_before(
    car: Car, tmp_path: Path, table: str, text: str
) -> None:
    folder = whole(folder_of(car))
    sheets: Mapping[str, Sheet] = {**folder.sheets, table: _sheet(table, text)}
    load_car(folder=CarFolder(sheets=sheets), by=None, slug="a", replace=True)
    place = _dump(tmp_path / "out")
    assert read_folder(place).sheet(table).rows == _sheet(table, text).rows
    again = _load(place)
    assert folder_of(again).sheet(table).rows == _sheet(table, text).rows


def test_bays_that_the_workshop_lacks_are_not_carried_in_part(
    car: Car, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    set_workshop(table="bays", rows=_rows("bays", "bay,count\nbench,1\n"), by=None)
    place = _dump(tmp_path / "out")  # in part it could not be read again
    assert "bays" not in read_folder(place).sheets
    assert _plan(capsys, str(place))["impossible"] is None


def test_the_owner_s_copy_names_nobody_of_the_workshop(car: Car, tmp_path: Path) -> None:
    place = _dump(tmp_path / "out", "--for-owner")
    assert "people" not in read_folder(place).sheets
    assert "Ann" not in "".join(path.read_text() for path in place.iterdir())


def test_loading_says_what_stays_the_workshop_s(
    car: Car, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = _dump(tmp_path / "out")
    capsys.readouterr()
    assert code("load", str(place)) == 0
    out, err = capsys.readouterr()
    assert out.strip() == "invented-a"
    assert "people.csv, bays.csv, closed_days.csv: as the workshop has them" in err
