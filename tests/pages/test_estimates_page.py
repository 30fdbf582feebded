"""Estimate against actual over the workshop: hours for all of it, money for the head alone."""

from __future__ import annotations

import csv
import io
import math

import pytest
from django.urls import reverse
from openpyxl import load_workbook
from tests.pages.conftest import Cast
from tests.pages.test_plan_pages import PEOPLE, TASKS, finish_twice_as_long

from asfound.record.actions import add_observations, set_sheet
from asfound.record.actions.money import set_money


@pytest.fixture
def worked(cast: Cast) -> Cast:
    """Stripping was thought to take (3 + 4 · 6 + 30)/6 = 9.5 h and took 20."""
    tasks = [
        {**row, "task": "wing: strip" if row["task"] == "strip" else row["task"]} for row in TASKS
    ]
    for table, rows in (("tasks", tasks), ("people", PEOPLE)):
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    finish_twice_as_long(cast.car, task="wing: strip")
    set_money(cost_rates={"panel": "40"}, by=None)
    return cast


def test_it_says_where_nothing_is_finished(cast: Cast) -> None:
    page = cast.craft.get(reverse("estimates")).content.decode()
    assert "No task with an estimate is finished yet" in page
    assert cast.craft.get(reverse("estimates-csv")).content.decode().count("\n") == 1


def test_hours_are_for_all_of_the_workshop_and_what_they_cost_for_the_head(worked: Cast) -> None:
    craft = worked.craft.get(reverse("estimates")).content.decode()
    head = worked.head.get(reverse("estimates")).content.decode()
    for page in (craft, head):
        assert "wing: strip Job strip" in page
        assert "20.0 h" in page
        assert "9.5 h" in page
        assert "Ann Rook" in page
    # 10.5 h beyond the estimate at 40 each.
    assert "420" in head
    assert "cost beyond" not in craft
    assert "beyond_estimate_cost" not in worked.craft.get(reverse("estimates-csv")).content.decode()
    assert worked.owner.get(reverse("estimates")).status_code == 403
    assert worked.nobody.get(reverse("estimates")).status_code == 302


def test_the_factor_is_partly_pooled_and_one_more_job_spreads_wider(worked: Cast) -> None:
    """One job, so that the posterior is in closed form: prior 0.25 at 1, one job's spread 0.3."""
    text = worked.head.get(reverse("estimates-csv")).content.decode()
    trade, kind = csv.DictReader(io.StringIO(text))
    assert (trade["trade"], trade["kind"], kind["kind"]) == ("panel", "", "strip")
    prior, job = 0.25**2, 0.3**2
    mean = math.log(20 / 9.5) * prior / (prior + job)
    doubt = math.sqrt(prior * job / (prior + job))
    z90 = 1.6448536
    for row in (trade, kind):
        assert float(row["factor"]) == pytest.approx(math.exp(mean), abs=0.006)
        assert float(row["factor_high"]) == pytest.approx(math.exp(mean + z90 * doubt), abs=0.006)
        wide = math.sqrt(doubt**2 + job)
        assert float(row["job_low"]) == pytest.approx(math.exp(mean - z90 * wide), abs=0.006)
    assert trade["beyond_estimate_cost"] == "420.00"


def test_lines_and_jobs_go_out_as_csv_and_xlsx(worked: Cast) -> None:
    text = worked.craft.get(reverse("estimates-csv"), {"jobs": ""}).content.decode()
    (job,) = csv.DictReader(io.StringIO(text))
    told = [job[name] for name in ("task", "kind", "estimate_hours", "actual_hours", "ended")]
    assert told == ["wing: strip", "strip", "9.50", "20.00", "2026-03-03"]
    book = load_workbook(io.BytesIO(worked.craft.get(reverse("estimates-xlsx")).content))
    assert book.sheetnames == ["estimates", "jobs"]
    assert book["jobs"]["J2"].value == 20
    picture = worked.craft.get(reverse("estimates-svg")).content
    assert b"panel: strip, 1 job" in picture
    assert b"var(--" not in picture


def test_a_job_whose_clock_did_not_run_is_named_and_not_learned_from(worked: Cast) -> None:
    before = worked.craft.get(reverse("estimates-csv")).content
    who = {"task": "paint", "subject": "car", "person": "Bo Linnet", "done": "yes"}
    times = {"from_at": "2026-03-04T08:00:00Z", "to_at": "2026-03-04T08:01:00Z"}
    add_observations(car=worked.car, table="worked", rows=[{**who, **times}], by=None)
    assert worked.craft.get(reverse("estimates-csv")).content == before
    page = worked.craft.get(reverse("estimates")).content.decode()
    assert "Not learned from" in page
    assert "Job paint</a>" in page
