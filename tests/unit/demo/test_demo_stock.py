"""The invented stock: checked by the rules of its tables, and one of its hides serves a need."""

from __future__ import annotations

import pytest

from asfound.demo import demo_folder
from asfound.demo.stock import keep_stock
from asfound.demo.written import written
from asfound.exchange import check_written
from asfound.exchange.dialect import Written
from asfound.record.convert.salvage import matches_of
from asfound.record.models import SalvagePiece
from asfound.record.reads.salvage import states_of, stock
from asfound.record.tables.salvage import STOCK_TABLES


@pytest.mark.parametrize("name", ["salvage", "salvage_defects"])
def test_its_tables_hold_to_their_rules(name: str) -> None:
    rows = written(name)
    head = tuple(rows[0])
    numbered = tuple((n, tuple(row.values())) for n, row in enumerate(rows, 2))
    told = Written(separator=";", head=head, rows=numbered)
    sheet, faults = check_written(told, STOCK_TABLES[name], file=name)
    assert sheet is not None
    assert faults == []
    assert len(sheet) == len(rows)


@pytest.mark.django_db
def test_a_hide_serves_the_torn_panel_and_another_does_not() -> None:
    keep_stock()
    keep_stock()
    assert SalvagePiece.objects.count() == len(written("salvage"))
    need = next(iter(demo_folder().sheet("needs")))
    ranked = matches_of(need.cells, states_of(stock(kind="hide")))
    assert (ranked[0].number, ranked[0].answer) == ("S0001", "yes")
    assert ranked[-1].answer == "no"
