"""Finished tasks become jobs; what these say of estimates enters a plan."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime

from asfound.plan import Hours, PlanProblem, Task
from asfound.plan.past import Factor, Job, Past, fit_past
from asfound.plan.pert import mean_of
from asfound.plan.three_point import log_variance_of
from asfound.record.convert.job_kind import kind_of
from asfound.record.convert.plan import ShopQuestion
from asfound.record.convert.worked import TaskWork, work_by_task
from asfound.record.folder import CarFolder

NO_PAST = Past()
FAR = 10.0
"""A job that took less than a tenth of its estimate, or more than ten times it, tells of a clock
that was begun late or never ended, and teaches nothing until it is put right (a guess)."""
_NOT_NOW = datetime.min.replace(tzinfo=UTC)
"""What still runs counts for nothing here: only finished tasks are looked at."""


def finished(car: CarFolder) -> dict[str, TaskWork]:
    """What was worked on each task that is done and that nobody is at."""
    works = work_by_task(car, _NOT_NOW).items()
    return {task: work for task, work in works if work.done and not work.running}


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishedJob:
    """A finished task as a job, with what tells it apart for people.

    Parameters
    ----------
    task, name : str
    people : int
        How many of the trade it takes at the same time; hours of the job are those of one.
    who : tuple of str
        Who worked on it.
    ended : date or None
        Day in UTC on which the last stretch of work on it ended, where that can be read.
    job : Job
    """

    task: str
    name: str
    people: int
    who: tuple[str, ...]
    ended: date | None
    job: Job

    @property
    def teaches(self) -> bool:
        """Whether the hours can be those that it took."""
        return not is_far(worked_h=self.job.actual_h, estimate_h=self.job.estimate_h)


def is_far(*, worked_h: float, estimate_h: float) -> bool:
    """Whether hours worked are so far from those thought that the clock is to be doubted."""
    return worked_h * FAR < estimate_h or worked_h > estimate_h * FAR


def jobs_of(car: CarFolder) -> Iterator[Job]:
    """Finished tasks of a car as jobs alone, but for those whose clock is to be doubted."""
    return (one.job for one in finished_jobs(car) if one.teaches)


def finished_jobs(car: CarFolder) -> Iterator[FinishedJob]:
    """Finished tasks of a car: expected hours of the three points against those worked.

    The hours of a task are those of its team together, so that what each of several people worked
    is shared by the number of people. A task with no hours on either side, with times that cannot
    be read, or that needs nobody tells nothing. What the past had already put into an estimate is
    taken out of it, so that learning twice from one job is impossible.
    """
    done = finished(car)
    for row in car.sheet("tasks"):
        work, people = done.get(row.text("task")), int(row.number("people", default=1))
        if work is None or not people or work.unreadable_n:
            continue
        low, likely, high = (row.number(f"hours_{point}") for point in ("low", "likely", "high"))
        if not 0 <= low <= likely <= high:
            continue
        estimate = mean_of(Hours(low=low, likely=likely, high=high))
        estimate /= row.number("learned", default=1.0)
        actual = work.hours / people
        if estimate > 0 and actual > 0:
            job = Job(
                trade=row.text("trade"),
                kind=kind_of(row),
                estimate_h=estimate,
                actual_h=actual,
            )
            yield FinishedJob(
                task=row.text("task"),
                name=row.text("name"),
                people=people,
                who=work.people,
                ended=work.ended.date() if work.ended else None,
                job=job,
            )


def past_of(cars: Iterable[CarFolder]) -> Past:
    """What the finished tasks of all those cars say."""
    return fit_past([job for car in cars for job in jobs_of(car)])


def with_past(question: ShopQuestion, past: Past, *, done: Collection[str] = ()) -> ShopQuestion:
    """The same question with the hours of its tasks as the past says they will be.

    Parameters
    ----------
    question : ShopQuestion
    past : Past
        One without a job changes nothing.
    done : collection of str
        Tasks of the question that are finished: their hours are no longer in doubt.
    """
    if not past.jobs:
        return question
    tasks = tuple(t if t.task in done else _learned(t, past) for t in question.problem.tasks)
    problem: PlanProblem = replace(question.problem, tasks=tasks)
    return replace(question, problem=problem)


def _learned(task: Task, past: Past) -> Task:
    if not task.people:
        return task
    factor = past.factor(task.trade, task.kind)
    hours, more = task.hours, factor.median / task.learned
    low, likely, high = (more * h for h in (hours.low, hours.likely, hours.high))
    learned = Hours(low=low, likely=likely, high=high)
    own = factor.job_log**2 - factor.doubt_log**2 - log_variance_of(hours)
    return replace(
        task,
        hours=learned,
        doubt_log=factor.doubt_log,
        own_log=math.sqrt(max(own, 0.0)),
        learned=factor.median,
    )


def trades_of_past(past: Past) -> list[tuple[str, Factor]]:
    """Each trade that finished a job, with its factor, the one with most jobs first."""
    trades = dict.fromkeys(job.trade for job in past.jobs)
    told = [(trade, past.factor(trade)) for trade in trades]
    return sorted(told, key=lambda pair: (-pair[1].jobs_of_trade, pair[0]))


def past_words(past: Past) -> list[str]:
    """What the past says of each trade, in words; none where nothing is finished.

    Examples
    --------
    >>> past_words(fit_past([Job(trade="trimmer", estimate_h=2, actual_h=2)]))
    ['your past says × 1.00 (0.73–1.37) on 1 job of the trimmer']
    """
    told = trades_of_past(past)
    if len(told) > 1 and not past.of_trades:  # one factor for all of them
        *others, last = [trade for trade, _ in told]
        together = f"the {', '.join(others)} and {last}"
        apart = "nothing tells the trades apart yet, so that all are taken together"
        return [f"{_factor_words(told[0][1], len(past.jobs), together)}; {apart}"]
    return [_factor_words(f, f.jobs_of_trade, f"the {trade}") for trade, f in told]


def _factor_words(factor: Factor, jobs: int, of: str) -> str:
    span = f"× {factor.median:.2f} ({factor.low:.2f}–{factor.high:.2f})"
    return f"your past says {span} on {jobs} job{'' if jobs == 1 else 's'} of {of}"


def spread_words(past: Past) -> str:
    """How far one further job of each trade may come out, nine times in ten; empty for no past.

    Examples
    --------
    >>> spread_words(fit_past([Job(trade="trimmer", estimate_h=2, actual_h=2)]))
    'one further job of the trimmer comes out at × 0.56–1.80 nine times in ten'
    """
    trades: dict[str, list[str]] = {}
    for trade, f in trades_of_past(past):
        trades.setdefault(f"× {f.job_low:.2f}–{f.job_high:.2f}", []).append(trade)
    told = [
        f"of the {' or '.join(names)} {'comes out ' * (not place)}at {span}"
        for place, (span, names) in enumerate(trades.items())
    ]
    return f"one further job {', '.join(told)} nine times in ten" if told else ""


def shared_words(past: Past) -> str:
    """Where the correlation within a trade is from."""
    if past.shared_is_assumed:
        return f"correlated with {past.shared:g}: a guess, no source"
    return f"correlated with {past.shared:.2f}, estimated from {len(past.jobs)} finished jobs"


def past_json(past: Past) -> dict[str, list[dict[str, object]]]:
    """What a result tells of the past under ``past``; nothing where nothing is finished."""
    told: list[dict[str, object]] = [
        {
            "trade": trade,
            "factor": round(f.median, 4),
            "factor_90": [round(f.low, 4), round(f.high, 4)],
            "further_job_u_log": round(f.job_log, 4),
            "jobs": f.jobs_of_trade,
        }
        for trade, f in trades_of_past(past)
    ]
    return {"past": told} if told else {}
