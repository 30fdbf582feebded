"""The workshop's own table of treatments, and the rows that a car takes over from it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from django.urls import reverse
from tests.pages.conftest import Cast
from tests.pages.test_options_pages import RATE, at, page, write

from asfound.exchange import read_folder, write_folder
from asfound.record.actions import sheet_rows
from asfound.record.actions.money import set_money
from asfound.record.convert.stored import folder_of
from asfound.record.models import Entry
from asfound.record.reads.money import money_settings

OTHER = {**RATE, "option": "blend", "treatment": "blend", "cost": "60"}
SIZE = {"subject": "door left", "kind": "panel finish", "size": "2", "unit": "m²"}


def keep(
    cast: Cast, *rows: dict[str, str], seen: str = "[]", who: str = "head", kind: str = ""
) -> Any:
    data = {f"{n}.{c}": cell for n, row in enumerate(rows, start=1) for c, cell in row.items()}
    sent = {**data, "rows": str(len(rows)), "seen": seen, "step": "keep"}
    return getattr(cast, who).post(f"{reverse('treatments')}?kind={kind}", sent)


def test_the_head_keeps_one_table_for_all_cars_and_the_log_keeps_it_too(cast: Cast) -> None:
    assert keep(cast, RATE, OTHER).status_code == 302
    assert money_settings().treatment_rates == [RATE, OTHER]
    assert Entry.objects.get(action="set the workshop's treatments").car is None
    shown = cast.head.get(reverse("treatments")).content.decode()
    assert "test for lead before sanding" in shown
    assert reverse("treatments") in cast.head.get(reverse("cars")).content.decode()


def test_others_than_the_head_keep_nothing(cast: Cast) -> None:
    assert keep(cast, RATE, who="craft").status_code == 403
    assert keep(cast, RATE, who="owner").status_code == 403
    assert reverse("treatments") not in cast.craft.get(reverse("cars")).content.decode()
    assert money_settings().treatment_rates == []


def test_one_kind_is_changed_and_all_others_stay_in_their_places(cast: Cast) -> None:
    door = {**RATE, "kind": "door"}
    wood = {**RATE, "kind": "wood", "hours_painter": "3"}
    keep(cast, RATE, door, wood)
    shown = cast.head.get(reverse("treatments"), {"kind": "door"}).text
    assert 'value="door"' in shown
    assert 'value="wood"' not in shown
    seen = json.dumps(money_settings().treatment_rates)
    dearer = {**door, "cost": "130"}
    keep(cast, dearer, {"kind": "door"}, seen=seen, kind="door")
    assert money_settings().treatment_rates == [RATE, dearer, wood]
    clash = keep(cast, {**door, "kind": "wood"}, seen=seen, kind="door")
    assert clash.status_code == 422
    assert "wood" in clash.text.split("Nothing was written")[1]


def test_a_row_without_a_source_or_written_twice_is_told_and_nothing_kept(cast: Cast) -> None:
    answer = keep(cast, {**RATE, "source": ""})
    assert answer.status_code == 422
    assert "source" in answer.content.decode().split("Nothing was written")[1]
    assert keep(cast, RATE, RATE).status_code == 422
    assert money_settings().treatment_rates == []


def test_two_who_change_the_table_do_not_overwrite_each_other(cast: Cast) -> None:
    keep(cast, RATE)
    answer = keep(cast, OTHER)
    assert answer.status_code == 409
    assert "Somebody else changed this table" in answer.content.decode()
    assert money_settings().treatment_rates == [RATE]


def test_money_settings_leave_the_treatments_as_they_are(cast: Cast) -> None:
    keep(cast, RATE)
    set_money(by=cast.head_person.user, name="the invented workshop")
    assert money_settings().treatment_rates == [RATE]


def test_a_car_takes_over_the_rows_its_options_came_from_and_no_others(
    cast: Cast, tmp_path: Path
) -> None:
    keep(cast, RATE, OTHER)
    write(cast, "piece_sizes", SIZE)
    assert "2 m² at the rate for panel finish (past work)" in page(cast)
    assert sheet_rows(cast.car, "treatment_rates") == []
    cast.craft.post(at(cast, "offered-options"), {"take": "0"})
    cast.car.refresh_from_db()
    # 2 m² at 14 h and 120 a square metre.
    option = cast.car.options.get(subject="door left")
    assert (option.option, option.cost, option.hours["painter"]) == ("refinish", 240, 28)
    own = [{k: v for k, v in row.items() if v} for row in sheet_rows(cast.car, "treatment_rates")]
    assert own == [RATE]
    assert "take door left: blend" in page(cast)
    write_folder(folder_of(cast.car), tmp_path / "car")
    dumped = read_folder(tmp_path / "car").sheet("treatment_rates")
    assert [{k: v for k, v in row.cells.items() if v} for row in dumped] == [RATE]


def test_a_row_of_the_car_stands_instead_of_the_workshops(cast: Cast) -> None:
    keep(cast, RATE, OTHER)
    write(cast, "piece_sizes", SIZE)
    write(cast, "treatment_rates", {**RATE, "cost": "200"})
    cast.head.post(at(cast, "offered-options"), {"take": ["0", "1"]})
    cast.car.refresh_from_db()
    costs = dict(cast.car.options.filter(subject="door left").values_list("option", "cost"))
    assert costs == {"refinish": 400, "blend": 120}
    assert [row["cost"] for row in sheet_rows(cast.car, "treatment_rates")] == ["200", "60"]
