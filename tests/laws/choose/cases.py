"""Small choices made at random, and every choice of one looked at in turn."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from asfound.choose import Brief, Link, Opening, Option, Problem, Seam, Subject, grade_steps

TRADES = ("panel", "trimmer")
ZONES = ("exterior", "interior", "")


def make_problem(
    seed: int, *, subjects: int = 4, options: int = 4, tight: float = 0.6, calm: bool = False
) -> Problem:
    """An invented car with links of every kind and a brief that mostly binds.

    A calm one has every option safe, no lock and low floors, so that many choices are possible.
    """
    draw = random.Random(seed)
    names = [f"piece {i}" for i in range(subjects)]
    rows = tuple(
        Option(
            subject=name,
            option=f"way {j}",
            treatment="repair",
            kept=draw.choice([0.0, 0.1, 0.25, 0.5, 0.8, 0.9, 1.0]),
            grade=draw.randint(0, 5),
            cost=draw.choice([0, 10, 12.5, 20, 40, 99.99, 150]),
            hours={t: draw.choice([0, 0.5, 1, 2.25, 8]) for t in TRADES},
            safe=calm or draw.random() > 0.08,
        )
        for name in names
        for j in range(options if calm else draw.randint(1, options))
    )
    return Problem(
        subjects=tuple(_subject(draw, name, rows, calm) for name in names),
        options=rows,
        links=tuple(_link(draw, rows) for _ in range(draw.randint(0, 5))),
        brief=_brief(draw, subjects, tight, calm),
    )


def make_coupled(seed: int, *, subjects: int = 4, calm: bool = False) -> Problem:
    """The same with seams between neighbours, things that come off once, and pieces that wait."""
    plain = make_problem(seed, subjects=subjects, tight=1.0, calm=calm)
    draw = random.Random(seed + 1)
    names = [s.subject for s in plain.subjects]
    return Problem(
        subjects=plain.subjects,
        options=plain.options,
        links=(*plain.links, *(_wait(draw, plain) for _ in range(draw.randint(0, 2)))),
        brief=plain.brief,
        seams=tuple(_seam(draw, plain, *draw.sample(names, 2)) for _ in range(draw.randint(1, 2))),
        openings=tuple(_opening(draw, plain) for _ in range(draw.randint(1, 2))),
    )


def _seam(draw: random.Random, plain: Problem, one: str, two: str) -> Seam:
    here = {o.option: o.grade for o in plain.options if o.subject == one}
    there = {o.option: o.grade for o in plain.options if o.subject == two}
    if draw.random() < 0.5:
        steps = grade_steps(here, there)
        return Seam(
            subject=one, other_subject=two, measure="grade", most=draw.randint(1, 3), steps=steps
        )
    pairs = [(a, b) for a in here for b in there if draw.random() < 0.8]
    return Seam(
        subject=one,
        other_subject=two,
        measure="colour",
        most=draw.choice([1.0, 2.5]),
        steps={pair: draw.choice([0.0, 0.9, 2.5, 6.0]) for pair in pairs},
    )


def _opening(draw: random.Random, plain: Problem) -> Opening:
    users = [o for o in plain.options if o.hours["panel"] >= 0.5 and o.cost >= 10]
    some = draw.sample(users, min(len(users), draw.randint(2, 5)))
    return Opening(
        thing="bumper",
        users=tuple((o.subject, o.option) for o in some),
        cost=draw.choice([0.0, 7.25]),
        hours={"panel": draw.choice([0.0, 0.5])},
    )


def _wait(draw: random.Random, plain: Problem) -> Link:
    one = draw.choice(plain.options)
    others = [o for o in plain.options if o.subject != one.subject]
    two = draw.choice(others)
    return Link(
        kind="waits",
        subject=one.subject,
        option=one.option,
        other_subject=two.subject,
        other_option=draw.choice(["", two.option]),
    )


def _subject(draw: random.Random, name: str, rows: tuple[Option, ...], calm: bool) -> Subject:
    own = [o.option for o in rows if o.subject == name]
    return Subject(
        subject=name,
        weight=draw.choice([0.0, 0.3, 1.0, 2.5, 5.0]) if name != "piece 0" else 1.5,
        min_grade=draw.choice([0, 0, 0, 1] if calm else [0, 0, 0, 1, 2, 3]),
        zone=draw.choice(ZONES),
        locked_option=draw.choice(own) if draw.random() < 0.1 and not calm else "",
    )


def _link(draw: random.Random, rows: tuple[Option, ...]) -> Link:
    one, two = draw.choice(rows), draw.choice(rows)
    kind = draw.choice(["requires", "excludes", "shares", "shares"])
    return Link(
        kind=kind,
        subject=one.subject,
        option=one.option,
        other_subject=two.subject,
        other_option=two.option,
        saves_cost=draw.choice([0.0, 5.0, 10.01]) if kind == "shares" else 0.0,
        saves_hours=draw.choice([0.0, 0.5]) if kind == "shares" else 0.0,
        trade=draw.choice(TRADES),
    )


def _brief(draw: random.Random, subjects: int, tight: float, calm: bool) -> Brief:
    return Brief(
        cost_max=round(draw.uniform(10, 80) * subjects * tight, 2) if draw.random() < 0.8 else None,
        hours_max={
            t: draw.randint(1 + calm, 5) * subjects * tight for t in TRADES if draw.random() < 0.6
        },
        min_grade={z: draw.randint(0, 1 if calm else 3) for z in ZONES[:2] if draw.random() < 0.4},
    )


@dataclass(frozen=True, kw_only=True)
class Sums:
    options: tuple[tuple[str, str], ...]
    kept: Fraction
    cost: Fraction
    hours: Fraction


def written(value: float) -> Fraction:
    return Fraction(str(value))


def every_choice(problem: Problem) -> Iterator[dict[str, Option]]:
    by_subject = {
        s.subject: [o for o in problem.options if o.subject == s.subject] for s in problem.subjects
    }
    for picked in itertools.product(*by_subject.values()):
        yield dict(zip(by_subject, picked, strict=True))


def sums(
    problem: Problem, choice: dict[str, Option]
) -> tuple[Fraction, Fraction, dict[str, Fraction]]:
    """Kept, cost and hours by trade of one choice, summed as the contract says."""
    weights = {s.subject: written(s.weight) for s in problem.subjects}
    kept = sum(weights[n] * written(o.kept) for n, o in choice.items()) / sum(weights.values())
    cost = sum((written(o.cost) for o in choice.values()), Fraction(0))
    hours = {t: sum(written(o.hours.get(t, 0)) for o in choice.values()) for t in TRADES}
    for link in problem.links:
        ends = ((link.subject, link.option), (link.other_subject, link.other_option))
        if link.kind == "shares" and all(choice[n].option == o for n, o in ends):
            cost -= written(link.saves_cost)
            hours[link.trade] -= written(link.saves_hours)
    for opening in problem.openings:
        users = [key for key in opening.users if choice[key[0]].option == key[1]]
        for _ in users[1:]:
            cost -= written(opening.cost)
            for trade, spent in opening.hours.items():
                hours[trade] -= written(spent)
    return kept, cost, hours


def faults(problem: Problem, choice: dict[str, Option]) -> list[tuple[str, object]]:
    """Every requirement that a choice breaks."""
    brief = problem.brief
    _, cost, hours = sums(problem, choice)
    found: list[tuple[str, object]] = []
    if brief.cost_max is not None and cost > written(brief.cost_max):
        found.append(("cost", None))
    found += [("hours", t) for t, h in brief.hours_max.items() if hours[t] > written(h)]
    for subject in problem.subjects:
        name, option = subject.subject, choice[subject.subject]
        own = [o for o in problem.options if o.subject == name]
        if option.grade < subject.min_grade:
            found.append(("floor", name))
        if subject.zone and option.grade < brief.min_grade.get(subject.zone, 0):
            found.append(("zone floor", subject.zone))
        if subject.locked_option and option.option != subject.locked_option:
            found.append(("lock", name))
        if not option.safe:
            found.append(("safety", name) if not any(o.safe for o in own) else ("unsafe", name))
    for place, link in enumerate(problem.links):
        first = choice[link.subject].option == link.option
        second = choice[link.other_subject].option == link.other_option
        if link.kind == "requires" and first and not second:
            found.append(("link", place))
        if link.kind == "excludes" and first and second:
            found.append(("link", place))
        if link.kind == "waits" and first:
            other = next(s for s in problem.subjects if s.subject == link.other_subject)
            if link.other_option and not second:
                found.append(("link", place))
            if not link.other_option and not other.locked_option:
                found.append(("wait", place))
    for place, seam in enumerate(problem.seams):
        pair = choice[seam.subject].option, choice[seam.other_subject].option
        step = seam.steps.get(pair)
        if step is not None and written(step) > written(seam.most):
            found.append(("seam", place))
    return found


def feasible(problem: Problem, *, ignore: frozenset[str] = frozenset()) -> list[Sums]:
    """Every choice that breaks nothing (but what is ignored by kind)."""
    found = []
    for choice in every_choice(problem):
        if all(kind in ignore for kind, _ in faults(problem, choice)):
            kept, cost, hours = sums(problem, choice)
            options = tuple(sorted((n, o.option) for n, o in choice.items()))
            found.append(Sums(options=options, kept=kept, cost=cost, hours=sum(hours.values())))
    return found
