"""The small tables: seen, edited whole, told by row what is wrong, never overwritten blindly."""

from __future__ import annotations

import html

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.desk.tables.grid import as_seen
from asfound.desk.tables.told import TOLD
from asfound.record.actions import EDITED_WHOLE, add_observations, set_sheet, sheet_rows
from asfound.record.tables.money import RATES

ROW = {"instrument": "M3", "kind": "sheet thickness", "u": "0,02", "unit": "mm", "source": "trial"}
KEPT = {**ROW, "u": "0.02"}


def at(cast: Cast, table: str) -> str:
    return reverse("table", args=(cast.car.slug, table))


def typed(*rows: dict[str, str], seen: object = (), **more: str) -> dict[str, str]:
    cells = {f"{n}.{c}": cell for n, row in enumerate(rows, start=1) for c, cell in row.items()}
    return {"rows": str(len(rows)), "seen": as_seen(seen), "step": "keep", **cells, **more}


def filled(cast: Cast, table: str) -> list[dict[str, str]]:
    cast.car.refresh_from_db()
    return [{c: cell for c, cell in row.items() if cell} for row in sheet_rows(cast.car, table)]


@pytest.mark.parametrize("table", EDITED_WHOLE)
def test_every_small_table_has_a_page_with_words_of_its_own(cast: Cast, table: str) -> None:
    page = html.unescape(cast.head.get(at(cast, table)).content.decode())
    assert TOLD[table].what in page
    assert "Keep the table" in page


def test_the_list_leads_to_every_table(cast: Cast) -> None:
    page = cast.head.get(reverse("tables", args=(cast.car.slug,))).content.decode()
    assert all(at(cast, table) in page for table in EDITED_WHOLE)


def test_the_rates_are_the_heads_alone(cast: Cast) -> None:
    for client in (cast.owner, cast.craft):
        page = client.get(reverse("tables", args=(cast.car.slug,))).content.decode()
        assert at(cast, "instruments") in page
        for table in RATES:
            assert at(cast, table) not in page
            assert client.get(at(cast, table)).status_code == 404
            assert client.post(at(cast, table), typed(ROW)).status_code == 404


def test_rows_are_kept_as_the_folder_writes_them_and_empty_ones_are_not(cast: Cast) -> None:
    answer = cast.craft.post(at(cast, "instruments"), typed({}, ROW, {}))
    assert answer.status_code == 302
    assert filled(cast, "instruments") == [KEPT]


def test_a_row_marked_for_removal_goes(cast: Cast) -> None:
    set_sheet(car=cast.car, table="instruments", rows=[KEPT, {**KEPT, "instrument": "B"}], by=None)
    seen = sheet_rows(cast.car, "instruments")
    cast.head.post(at(cast, "instruments"), typed(*seen, seen=seen, **{"1.remove": "yes"}))
    assert [row["instrument"] for row in filled(cast, "instruments")] == ["B"]


def test_a_fault_is_told_at_its_row_and_nothing_is_written(cast: Cast) -> None:
    answer = cast.head.post(at(cast, "instruments"), typed(ROW, {**ROW, "u": "-1"}))
    page = html.unescape(answer.content.decode())
    assert answer.status_code == 422
    assert 'id="faults-2"' in page
    assert 'id="faults-1"' not in page
    assert "u is “-1”" in page
    assert filled(cast, "instruments") == []


def test_two_rows_of_one_name_are_refused(cast: Cast) -> None:
    answer = cast.head.post(at(cast, "instruments"), typed(ROW, ROW))
    assert answer.status_code == 422
    assert "must be unique" in answer.content.decode()


def test_a_name_that_no_panel_has_is_refused(cast: Cast) -> None:
    answer = cast.head.post(
        at(cast, "neighbours"), typed({"panel": "bonnet", "other_panel": "wing"})
    )
    assert answer.status_code == 422
    assert "panels.csv has no such row" in answer.content.decode()


def test_a_row_that_readings_name_cannot_be_taken_away(cast: Cast) -> None:
    set_sheet(car=cast.car, table="edges", rows=[{"edge": "door, front"}], by=None)
    gap = {"edge": "door, front", "along_mm": "10", "gap_mm": "4"}
    add_observations(car=cast.car, table="gaps", rows=[gap], by=None)
    answer = cast.head.post(at(cast, "edges"), typed({}, seen=sheet_rows(cast.car, "edges")))
    assert answer.status_code == 422
    assert "door, front (row 2 of gaps.csv)" in answer.content.decode()


def test_what_somebody_else_wrote_meanwhile_is_not_written_over(cast: Cast) -> None:
    set_sheet(car=cast.car, table="instruments", rows=[KEPT], by=None)
    answer = cast.head.post(at(cast, "instruments"), typed({**ROW, "instrument": "mine"}, seen=()))
    assert answer.status_code == 409
    assert 'value="mine"' in answer.content.decode()
    assert filled(cast, "instruments") == [KEPT]


def test_more_rows_keep_what_is_typed_and_write_nothing(cast: Cast) -> None:
    page = cast.head.post(at(cast, "instruments"), typed(ROW, step="more")).content.decode()
    assert 'value="M3"' in page
    assert 'name="4.instrument"' in page
    assert filled(cast, "instruments") == []


def test_words_are_offered_as_choices(cast: Cast) -> None:
    page = cast.head.get(at(cast, "climates")).content.decode()
    assert '<option value="C3">C3</option>' in page


def test_the_owner_reads_and_does_not_write(cast: Cast) -> None:
    set_sheet(car=cast.car, table="instruments", rows=[KEPT], by=None)
    page = cast.owner.get(at(cast, "instruments")).content.decode()
    assert ">M3</td>" in page
    assert "Keep the table" not in page
    assert cast.owner.post(at(cast, "instruments"), typed(ROW)).status_code == 403


def test_strangers_and_unknown_tables_find_nothing(cast: Cast) -> None:
    assert cast.stranger.get(at(cast, "instruments")).status_code == 404
    assert cast.head.get(at(cast, "film")).status_code == 404
    assert cast.nobody.get(at(cast, "instruments")).status_code == 302


def test_the_way_back_is_one_of_this_cars_pages(cast: Cast) -> None:
    answer = cast.head.post(at(cast, "instruments"), typed(ROW, back="survey"))
    assert answer["Location"] == reverse("survey", args=(cast.car.slug,))
    page = cast.head.get(at(cast, "instruments") + "?back=https://elsewhere").content.decode()
    assert "elsewhere" not in page


def test_the_list_of_tables_asks_for_all_of_them_at_once(
    cast: Cast, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(8):
        cast.head.get(reverse("tables", args=(cast.car.slug,)))


def test_a_page_of_a_table_takes_few_queries(cast: Cast, django_assert_max_num_queries) -> None:
    with django_assert_max_num_queries(40):
        cast.head.get(at(cast, "instruments"))
