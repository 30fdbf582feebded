"""How long the exact choice takes on a large car, and how it compares with a plain loop.

Run: python -m benchmarks.choose [--subjects 800] [--points 30] [--seed 0] [--locks 0] [--plain]
[--unrelated] [--reasons]. Of the 300 couplings two thirds are links, a fifth seams, the rest
openings.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from dataclasses import replace

import numpy as np
from scipy import optimize, sparse

from asfound.base import NoSolutionError
from asfound.choose import (
    Brief,
    Choice,
    Link,
    Opening,
    Option,
    Problem,
    Seam,
    Subject,
    choose,
    explain,
    forcing_limits,
    front,
    grade_steps,
)
from asfound.choose.arithmetic import Ledger, open_ledger
from asfound.choose.eligible import eligible

TREATMENTS = ("leave as found", "clean", "stabilise", "repair", "refinish", "replace with new")
TRADES = ("panel", "trimmer")


def make_car(seed: int, subjects: int, ties: int = 300, *, unrelated: bool = False) -> Problem:
    """An invented car: the more is done to a piece, the less is kept and the better it looks.

    With ``unrelated``, cost and hours have nothing to do with the work: the hardest case.
    """
    draw = random.Random(seed)
    names = [f"piece {i:03d}" for i in range(subjects)]
    draw_option = _unrelated if unrelated else _option
    options = tuple(draw_option(draw, name, level) for name in names for level in range(6))
    pieces = tuple(_subject(draw, name, options) for name in names)
    seams_n, openings_n = ties // 5, ties * 2 // 15
    links = tuple(_link(draw, options) for _ in range(ties - seams_n - openings_n))
    car = Problem(
        subjects=pieces,
        options=options,
        links=links,
        seams=tuple(_seam(draw, names, options) for _ in range(seams_n)),
        openings=tuple(_opening(draw, f"thing {i}", options) for i in range(openings_n)),
    )
    return _with_brief(car)


def _seam(draw: random.Random, names: list[str], options: tuple[Option, ...]) -> Seam:
    place = draw.randrange(len(names) - 1)
    one, two = names[place : place + 2]
    grades = [{o.option: o.grade for o in options if o.subject == name} for name in (one, two)]
    return Seam(subject=one, other_subject=two, measure="grade", most=2, steps=grade_steps(*grades))


def _opening(draw: random.Random, thing: str, options: tuple[Option, ...]) -> Opening:
    able = [o for o in options if o.hours["panel"] >= 2 and o.cost >= 50]
    users = draw.sample(able, 4)
    return Opening(
        thing=thing, users=tuple((o.subject, o.option) for o in users), cost=50, hours={"panel": 2}
    )


def _option(draw: random.Random, name: str, level: int) -> Option:
    effort = level * draw.uniform(0.5, 1.5)
    return Option(
        subject=name,
        option=TREATMENTS[level],
        treatment=TREATMENTS[level],
        kept=round(min(1.0, max(0.0, 1.0 - level * draw.uniform(0.08, 0.2))), 2),
        grade=float(min(5, max(0, level + draw.randint(-1, 1)))),
        cost=float(round(10 + 180 * effort * draw.uniform(0.4, 1.6))),
        hours={t: round(4 * effort * draw.random()) / 2 for t in TRADES},
    )


def _unrelated(draw: random.Random, name: str, level: int) -> Option:
    return replace(
        _option(draw, name, level),
        kept=round(draw.random(), 2),
        cost=float(draw.randint(20, 3000)),
        hours={t: draw.randint(0, 80) / 2 for t in TRADES},
    )


def _subject(draw: random.Random, name: str, options: tuple[Option, ...]) -> Subject:
    best = max(o.grade for o in options if o.subject == name)
    return Subject(
        subject=name,
        weight=float(draw.randint(1, 50)) / 10,
        min_grade=min(best, draw.choice((0, 1, 2, 3))),
    )


def _link(draw: random.Random, options: tuple[Option, ...]) -> Link:
    one, two = draw.sample(options, 2)
    while one.subject == two.subject:
        two = draw.choice(options)
    return Link(
        kind=draw.choice(("requires", "excludes", "shares")),
        subject=one.subject,
        option=one.option,
        other_subject=two.subject,
        other_option=two.option,
        saves_cost=float(draw.randint(5, 60)),
        saves_hours=draw.randint(0, 4) / 2,
        trade=draw.choice(TRADES),
    )


def _with_brief(loose: Problem) -> Problem:
    """The same car with limits between what the cheapest and the best choices take."""
    ends = front(loose, points=2).points
    hours = choose(loose).hours
    return Problem(
        subjects=loose.subjects,
        options=loose.options,
        links=loose.links,
        seams=loose.seams,
        openings=loose.openings,
        brief=Brief(
            cost_max=round(0.65 * ends[0].cost + 0.35 * ends[-1].cost),
            hours_max={t: round(0.8 * h) for t, h in hours.items()},
        ),
    )


def plain_front(problem: Problem, levels: list[float]) -> list[float]:
    """Most kept at each level of cost by a loop of scipy.optimize.milp, a model built each time."""
    return [_plain(problem, open_ledger(problem), level) for level in levels]


def _plain(problem: Problem, ledger: Ledger, cost_max: float) -> float:
    allowed = eligible(problem)
    keys = [(s, o) for s, options in allowed.items() for o in options]
    place = {key: i for i, key in enumerate(keys)}
    shares = [
        (p, place[k.subject, k.option], place[k.other_subject, k.other_option])
        for p, k in ledger.shares
        if (k.subject, k.option) in place and (k.other_subject, k.other_option) in place
    ]
    first_done = len(keys) + len(shares)
    n = first_done + len(ledger.openings)
    rows: list[tuple[dict[int, float], float, float]] = [
        ({place[s, o]: 1.0 for o in options}, 1.0, 1.0) for s, options in allowed.items()
    ]
    for i, (_, one, two) in enumerate(shares):
        rows += [({len(keys) + i: 1.0, end: -1.0}, -np.inf, 0.0) for end in (one, two)]
    for k in problem.links:
        one, two = place.get((k.subject, k.option)), place.get((k.other_subject, k.other_option))
        if k.kind == "excludes" and one is not None and two is not None:
            rows.append(({one: 1.0, two: 1.0}, -np.inf, 1.0))
        if k.kind == "requires" and one is not None:
            rows.append(({one: 1.0} | ({} if two is None else {two: -1.0}), -np.inf, 0.0))
    for i, opening in enumerate(ledger.openings):
        for key in opening.users:
            if key in place:
                rows.append(({place[key]: 1.0, first_done + i: -1.0}, -np.inf, 0.0))
    for seam in problem.seams:
        for a, b in seam.steps:
            one, two = place.get((seam.subject, a)), place.get((seam.other_subject, b))
            if one is not None and two is not None and seam.forbids(a, b):
                rows.append(({one: 1.0, two: 1.0}, -np.inf, 1.0))
    limits = [(ledger.cost, cost_max)]
    limits += [(ledger.by_trade[t], h) for t, h in problem.brief.hours_max.items()]
    for amount, limit in limits:
        terms = {i: float(amount.of[key]) for key, i in place.items()}
        terms |= {
            len(keys) + i: -float(amount.saved.get(p, 0)) for i, (p, _, _) in enumerate(shares)
        }
        for i, steps in amount.opened.items():
            terms[first_done + i] = float(steps)
            for key in ledger.openings[i].users:
                if key in place:
                    terms[place[key]] -= steps
        rows.append((terms, -np.inf, limit / float(amount.unit)))
    matrix = sparse.lil_matrix((len(rows), n))
    for r, (terms, _, _) in enumerate(rows):
        for c, v in terms.items():
            matrix[r, c] = v
    aim = np.array([-float(ledger.kept.of[k]) for k in keys] + [0.0] * (n - len(keys)))
    result = optimize.milp(
        aim,
        constraints=optimize.LinearConstraint(
            matrix.tocsr(), [low for _, low, _ in rows], [high for _, _, high in rows]
        ),
        integrality=np.ones(n),
        bounds=optimize.Bounds(0, 1),
        options={"mip_rel_gap": 0.0},
    )
    return float(-result.fun * float(ledger.kept.unit / ledger.weight))


def _after_locks(problem: Problem, choice: Choice, locks: int) -> str:
    """Times of choosing anew with one piece locked to another option, one lock after another."""
    draw, took, refused = random.Random(1), [], 0
    pieces = draw.sample(list(problem.subjects), locks)
    for piece in pieces:
        others = [
            o.option
            for o in problem.options
            if o.subject == piece.subject
            and o.grade >= piece.min_grade
            and o.option != choice.options[piece.subject]
        ]
        if not others:
            continue
        locked = replace(piece, locked_option=draw.choice(others))
        subjects = tuple(locked if s.subject == piece.subject else s for s in problem.subjects)
        began = time.process_time()
        try:
            choose(replace(problem, subjects=subjects), time_limit_s=60)
        except NoSolutionError:
            refused += 1
            continue
        took.append(time.process_time() - began)
    return (
        f"median {statistics.median(took):.2f} s of the processor, longest {max(took):.2f} s "
        f"of {len(took)}; {refused} impossible"
    )


def _reasons(problem: Problem, choice: Choice, allowed_s: float) -> str:
    """Every reason without a limit of time, and how many of them the time of a page gives.

    Times are the processor's, so that other work of the machine does not count.
    """
    began, at = time.process_time(), list[float]()
    whys = explain(
        problem,
        choice,
        time_limit_s=1e6,
        keep=lambda _: at.append(time.process_time() - began),
    )
    limits_began = time.process_time()
    forced = forcing_limits(problem, choice.options, time_limit_s=1e6)
    limits_s = time.process_time() - limits_began
    exact = sum(why.proved for why in whys)
    in_time = sum(spent <= allowed_s for spent in at)
    return (
        f"{exact} of {len(whys)} exact in {at[-1]:.0f} s of the processor, "
        f"{in_time} of them in the first {allowed_s:.0f} s; forcing limits of "
        f"{len(forced)} pieces in {limits_s:.1f} s"
    )


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--subjects", type=int, default=800)
    ask.add_argument("--points", type=int, default=30)
    ask.add_argument("--seed", type=int, default=0)
    ask.add_argument("--locks", type=int, default=0, help="choose again after so many locks")
    ask.add_argument("--plain", action="store_true", help="also run the plain loop")
    ask.add_argument("--unrelated", action="store_true", help="costs unrelated to the work")
    ask.add_argument("--reasons", action="store_true", help="also find every reason")
    ask.add_argument("--allowed", type=float, default=10.0, help="seconds that a page has for them")
    given = ask.parse_args()
    problem = make_car(given.seed, given.subjects, unrelated=given.unrelated)
    ties = len(problem.links), len(problem.seams), len(problem.openings)
    print(
        f"{given.subjects} subjects, {len(problem.options)} options, {ties} links, seams, openings"
    )
    began, busy = time.perf_counter(), time.process_time()
    choice: Choice = choose(problem, time_limit_s=300)
    print(
        f"choice: {time.perf_counter() - began:.1f} s "
        f"({time.process_time() - busy:.1f} of the processor's), kept {choice.kept:.6f}, "
        f"proved {choice.proved}, gap {choice.gap:.1e}"
    )
    if given.locks:
        print(f"after a lock: {_after_locks(problem, choice, given.locks)}")
    if given.reasons:
        print(f"reasons: {_reasons(problem, choice, given.allowed)}", flush=True)
    if not given.points:
        return
    began, busy = time.perf_counter(), time.process_time()
    line = front(problem, points=given.points, time_limit_s=600)
    ours, own = time.perf_counter() - began, time.process_time() - busy
    print(
        f"front of {len(line.points)} points: {ours:.1f} s ({own:.1f} of the processor's), "
        f"exact {line.exact}, gap {line.gap:.1e}"
    )
    if given.plain:
        began, busy = time.perf_counter(), time.process_time()
        kept = plain_front(problem, [p.cost for p in line.points])
        plain, theirs = time.perf_counter() - began, time.process_time() - busy
        worst = max(abs(a - p.kept) for a, p in zip(kept, line.points, strict=True))
        print(
            f"plain loop, same levels, no tie-break: {plain:.1f} s, ratio {plain / ours:.1f} "
            f"({theirs / own:.1f} of the processor's time), "
            f"largest difference in kept {worst:.1e}"
        )


if __name__ == "__main__":
    main()
