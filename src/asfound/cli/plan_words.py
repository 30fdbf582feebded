"""A plan as ``asfound plan`` tells it in words."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.cli.show import (
    indented,
    table,
)
from asfound.plan import Past, Plan, Promise
from asfound.record.convert.past import (
    past_words,
    shared_words,
)
from asfound.record.convert.plan import ShopQuestion
from asfound.record.results.plan import (
    CHANCES,
    goes_on,
    promised,
    promised_json,
)


def plan_words(
    question: ShopQuestion,
    plan: Plan,
    promise: Promise,
    critical: tuple[str, ...],
    *,
    past: Past,
) -> Iterator[str]:
    """Paragraphs: the days, the tasks, the chances, the cars, what makes it late, the past."""
    yield (
        f"{plan.days:.1f} working days from {question.first_day} to "
        f"{question.at(plan.finish_min):%Y-%m-%d %H:%M} ({_how_sure(plan)})."
    )
    yield (
        table(
            ("", "task", "from", "to", "people", "bay"),
            (_row(question, plan, i, critical) for i in range(len(plan.placed))),
            align="llllll",
        )
        + "\n* sets the finish"
    )
    yield table(
        ("chance", "finished on"),
        ((f"{chance:.0%}", promised(question, promise, chance)) for chance in CHANCES.values()),
        align="rl",
    )
    yield (
        f"The plan takes the likely hours; {promise.chance_by(plan.finish_min):.0%} of "
        f"{promise.draws:,} draws of the hours end by its finish. In them "
        f"{goes_on(promise)}."
    )
    yield from _cars(question, plan, promise)
    yield from _kept(question, promise)
    # Of several cars the last to finish would only be told twice.
    for car, own in (promise.cars or {"": promise}).items():
        yield from _why(own, car)
    yield from _past(past)


def _how_sure(plan: Plan) -> str:
    if plan.cost is not None:
        most = (
            "no plan does better" if plan.proved else f"a better plan wins at most {plan.gap:.1%}"
        )
        return f"days of each car weighed by its priority: {most}"
    if plan.proved:
        return "no plan can be shorter"
    return f"none can be shorter than {plan.days_least:.1f}; gap {plan.gap:.1%}"


def _row(
    question: ShopQuestion, plan: Plan, index: int, critical: tuple[str, ...]
) -> tuple[str, ...]:
    placed = plan.placed[index]
    return (
        "*" if placed.task in critical else "",
        placed.task,
        f"{question.at(placed.start_min):%a %Y-%m-%d %H:%M}",
        f"{question.at(placed.end_min):%a %Y-%m-%d %H:%M}",
        ", ".join(placed.people),
        ", ".join(question.problem.named[placed.task].bays),
    )


def _cars(question: ShopQuestion, plan: Plan, promise: Promise) -> Iterator[str]:
    """Each car's finish and the days that can be promised, where there are several."""
    if promise.cars:
        yield table(
            ("car", "priority", "finish", *(f"{chance:.0%}" for chance in CHANCES.values())),
            (
                (
                    car,
                    f"{question.problem.priority.get(car, 1.0):g}",
                    f"{question.at(plan.cars[car]):%Y-%m-%d %H:%M}",
                    *(promised(question, promise.of(car), chance) for chance in CHANCES.values()),
                )
                for car in promise.cars
            ),
            align="lrllll",
        )


def _kept(question: ShopQuestion, promise: Promise) -> Iterator[str]:
    """Each promised day with the chance that it is kept."""
    days = {
        car: promised_json(question, promise.of(car) if promise.cars else promise, car)
        for car in question.problem.promised_min
    }
    if days:
        yield table(
            ("promised", "day", "kept with"),
            (
                (car or "the car", one["promised"], f"{one['kept']:.0%}")
                for car, one in days.items()
            ),
            align="llr",
        )


def _why(promise: Promise, of: str = "") -> Iterator[str]:
    it, of = of or "it", f" for {of}" if of else ""
    if promise.drivers:
        lines = "; ".join(f"{d.task} {d.days_earlier:.1f} d" for d in promise.drivers)
        yield (
            f"What makes {it} late, by the days won at a chance of 80 % if it took its likely "
            + (f"hours for certain:\n{indented(lines)}")
        )
    if promise.overtime:
        lines = "; ".join(f"{o.hours_a_day:.1f} h by {o.person}" for o in promise.overtime)
        yield f"What a day earlier costs{of}, in hours of overtime:\n{indented(lines)}"


def _past(past: Past) -> Iterator[str]:
    """What finished work says, where there is any."""
    if past.jobs:
        lines = ";\n".join(past_words(past))
        yield (
            f"Hours still to be worked are multiplied by what finished tasks say (not with "
            f"--no-past):\n{indented(lines)}\nDoubt within a trade is {shared_words(past)}."
        )
