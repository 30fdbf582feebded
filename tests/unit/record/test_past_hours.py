"""Hours of options from finished work: once learned, never learned twice."""

from __future__ import annotations

import math

import pytest

from asfound.plan.past import Job, fit_past
from asfound.record.convert.made_tasks import made_tasks
from asfound.record.convert.past import jobs_of, with_past
from asfound.record.convert.past_hours import (
    learned_faults,
    learned_of,
    past_hours,
    with_past_hours,
    without_changed,
)
from asfound.record.convert.plan import shop_question
from asfound.record.convert.proposed_options import as_proposed
from asfound.record.folder import CarFolder, Row, Sheet

ROW = {
    "subject": "door",
    "option": "paint anew",
    "treatment": "refinish",
    "kept": "0.1",
    "grade": "5",
    "cost": "100",
    "source": "guess",
    "hours_painter": "10",
    "hours_fitter": "4",
    "hours_trimmer": "0",
}
JOBS = [Job(trade="painter", kind="refinish", estimate_h=10, actual_h=15) for _ in range(3)]


def sheet(*rows: dict[str, str]) -> Sheet:
    columns = tuple(rows[0])
    return Sheet(columns=columns, rows=tuple(tuple(row[c] for c in columns) for row in rows))


def test_only_trades_that_finished_work_say_anything() -> None:
    (told,) = past_hours(ROW, fit_past(JOBS))
    assert (told.trade, told.estimate_h) == ("painter", 10)
    assert told.rests_on == "3 jobs of the painter, 3 of this kind"
    # By hand: the mean of three logs of 1.5, each with the spread (4·0.3² + 0)/(4 + 2) = 0.06, so
    # with variance 0.02, drawn to the prior N(0, 0.25²): weights 50 and 16.
    mean = math.log(1.5) * 50 / 66
    assert told.factor.median == pytest.approx(math.exp(mean))
    assert told.hours == round(4 * 10 * math.exp(mean)) / 4
    assert told.low == pytest.approx(10 * math.exp(mean - 1.6448536 / math.sqrt(66)))
    assert told.high == pytest.approx(10 * math.exp(mean + 1.6448536 / math.sqrt(66)))
    assert past_hours(ROW, fit_past([])) == ()


def test_the_row_keeps_what_was_learned_and_its_doubt() -> None:
    told = past_hours(ROW, fit_past(JOBS))
    row = with_past_hours(ROW, told)
    assert (row["source"], row["hours_painter"]) == ("past work", f"{told[0].hours:g}")
    assert (row["hours_fitter"], row["cost"]) == ("4", "100")
    assert float(row["doubt"]) == pytest.approx(told[0].factor.job_log, rel=0.05)
    factor = learned_of(Row(row, 2))["painter"]
    assert float(row["hours_painter"]) / factor == pytest.approx(10, rel=1e-3)


def test_a_typed_number_is_no_longer_learned() -> None:
    row = with_past_hours(ROW, past_hours(ROW, fit_past(JOBS)))
    assert without_changed(row, {**row, "hours_fitter": "9"}) == row["learned"]
    assert without_changed(row, {**row, "hours_painter": "9"}) == ""


def test_the_plan_does_not_learn_a_second_time_from_the_same_jobs() -> None:
    past = fit_past(JOBS)
    plain, learned = _tasks(ROW), _tasks(with_past_hours(ROW, past_hours(ROW, past)))
    assert learned["hours_likely"] != plain["hours_likely"]
    hours = [_planned(row, past) for row in (plain, learned)]
    assert hours[0] == pytest.approx(hours[1], rel=1e-3)
    ratios = [_job(row).log_ratio for row in (plain, learned)]
    assert ratios[0] == pytest.approx(ratios[1], rel=1e-3)


def _tasks(option: dict[str, str]) -> dict[str, str]:
    car = CarFolder(
        sheets={
            "options": sheet({k: v for k, v in option.items() if k != "hours_fitter"}),
            "subjects": sheet({"subject": "door", "locked_option": option["option"]}),
        }
    )
    (task,) = made_tasks(car).tasks
    return {"learned": "", **task}


def _car(task: dict[str, str]) -> CarFolder:
    worked = {"task": task["task"], "person": "Ann", "from_at": "2026-03-02T08:00:00Z"}
    person = {"person": "Ann", "trades": "painter", "hours_per_day": "8", "days": "mon-fri"}
    return CarFolder(
        sheets={
            "tasks": sheet(task),
            "people": sheet(person),
            "worked": sheet({**worked, "to_at": "2026-03-02T18:00:00Z", "done": "yes"}),
        }
    )


def _planned(task: dict[str, str], past: object) -> float:
    (planned,) = with_past(shop_question(_car(task)), past).problem.tasks  # type: ignore[arg-type]
    return planned.hours.likely


def _job(task: dict[str, str]) -> Job:
    (job,) = jobs_of(_car(task))
    return job


@pytest.mark.parametrize("cell", ["painter", "painter 0", "painter -1", "painter nan", "1.2 x"])
def test_what_is_no_factor_is_told_at_its_row(cell: str) -> None:
    (fault,) = learned_faults({"options": sheet({**ROW, "learned": cell})})
    assert (fault.row, fault.column, fault.value) == (2, "learned", cell)


def test_hours_that_a_person_typed_are_not_offered_to_be_changed() -> None:
    rate = {k: v for k, v in ROW.items() if k != "subject"} | {"kind": "panel", "unit": "each"}
    size = {"subject": "door", "kind": "panel", "size": "", "unit": "each"}

    def offered(option: dict[str, str]) -> int:
        sheets = {"options": sheet(option), "treatment_rates": sheet(rate)}
        return len(as_proposed(CarFolder(sheets={**sheets, "piece_sizes": sheet(size)})))

    assert offered(ROW) == 1
    assert offered({**ROW, "hours_painter": "10.0"}) == 1
    assert offered({**ROW, "hours_painter": "11"}) == 0
    assert offered({**ROW, "source": "quote"}) == 0
    assert offered({**ROW, "learned": "painter 1.2"}) == 0
