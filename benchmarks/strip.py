"""How long it takes to find what must come off to reach a piece, and how good the answer is.

    python -m benchmarks.strip                 # the invented car, every piece with several ways
    python -m benchmarks.strip --drawn 5       # and five drawn at random, full of ways

The same question goes to a plain mixed-integer model of the same rules (scipy, HiGHS) and, where
the graph is small, to a count of all sets. Printed are seconds, the gap that is left, and ratios.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from itertools import combinations

import numpy as np
from benchmarks.strip_car import strip_car
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from asfound.plan.strip import Assembly, Joint, Piece, way_to
from asfound.record.convert.strip import strip_question


def drawn_assembly(seed: int, *, pieces_n: int, share_with_ways: float = 0.5) -> Assembly:
    """An invented graph without rings: each piece hangs on a few before it, many in two ways."""
    draw = random.Random(seed)
    names = [f"P{i:03d}" for i in range(pieces_n)]
    joints = []
    for i, name in enumerate(names[2:], start=2):
        near = names[max(0, i - 40) : i]
        ways = ("from above", "from below") if draw.random() < share_with_ways else ("",)
        for way in ways:
            for first in draw.sample(near, min(len(near), draw.choice((1, 2, 2, 3)))):
                joints.append(Joint(piece=name, after=first, way=way))
    pieces = (
        Piece(piece=n, significance=draw.randint(0, 5), fragile=draw.randint(0, 5)) for n in names
    )
    return Assembly(pieces=tuple(pieces), joints=tuple(joints))


def risk_by_milp(assembly: Assembly, piece: str, *, limit_s: float) -> tuple[float, float]:
    """Least risk and its proved bound from a plain model: taken, place and way as variables."""
    names = assembly.behind(piece)
    at = {name: i for i, name in enumerate(names)}
    n = len(names)
    ways = [(name, asked) for name in names for asked in assembly.ways[name].values()]
    width = 2 * n + len(ways)
    rows: list[dict[int, float]] = []
    lows: list[float] = []

    def at_least(low: float, terms: dict[int, float]) -> None:
        rows.append(terms)
        lows.append(low)

    def before(switch: int, name: str, first: str) -> None:
        at_least(0, {at[first]: 1, switch: -1})
        span = n + 1
        at_least(1 - span, {n + at[name]: 1, n + at[first]: -1, switch: -span})

    for name in names:
        for first in assembly.always[name]:
            before(at[name], name, first)
    for k, (name, asked) in enumerate(ways):
        for first in asked:
            before(2 * n + k, name, first)
    for name in names:
        own = [2 * n + k for k, (whose, _) in enumerate(ways) if whose == name]
        if own:
            at_least(0, dict.fromkeys(own, 1.0) | {at[name]: -1.0})
    entries = [(i, j, value) for i, row in enumerate(rows) for j, value in row.items()]
    i, j, values = zip(*entries, strict=True) if entries else ((), (), ())
    cost = np.zeros(width)
    cost[:n] = [assembly.named[name].risk if name != piece else 0.0 for name in names]
    upper = np.r_[np.ones(n), np.full(n, n), np.ones(len(ways))]
    lower = np.zeros(width)
    lower[at[piece]] = 1
    rules = LinearConstraint(coo_array((values, (i, j)), shape=(len(rows), width)), lows, np.inf)
    whole = np.r_[np.ones(n), np.zeros(n), np.ones(len(ways))]
    found = milp(
        cost,
        constraints=rules if rows else (),
        bounds=Bounds(lower, upper),
        integrality=whole,
        options={"time_limit": limit_s, "mip_rel_gap": 0.0},
    )
    risk = float(found.fun) if found.x is not None else float("inf")
    return risk, float(found.mip_dual_bound or 0.0)


def risk_by_count(assembly: Assembly, piece: str) -> float:
    """Least risk of all sets of pieces from which the piece comes off."""
    others = [name for name in assembly.named if name != piece]
    lawful = (
        sum(assembly.named[name].risk for name in several)
        for count in range(len(others) + 1)
        for several in combinations(others, count)
        if _comes_off(assembly, {*several, piece})
    )
    return min(lawful)


def _comes_off(assembly: Assembly, among: set[str]) -> bool:
    off: set[str] = set()
    while free := {n for n in among - off if assembly.can_come_off(n, off)}:
        off |= free
    return off == among


def _held_against_milp(title: str, assembly: Assembly, targets: list[str], limit_s: float) -> None:
    ours, plain, gaps, worse = [], [], [], 0
    for piece in targets:
        began = time.perf_counter()
        way = way_to(assembly, piece, work_s=limit_s)
        ours.append(time.perf_counter() - began)
        began = time.perf_counter()
        risk, _ = risk_by_milp(assembly, piece, limit_s=limit_s)
        plain.append(time.perf_counter() - began)
        gaps.append((way.risk - way.risk_least) / way.risk if way.risk else 0.0)
        worse += way.risk > risk + 1e-4
    ratio = statistics.median(p / o for o, p in zip(ours, plain, strict=True))
    print(
        f"{title}: {len(targets)} targets of {len(assembly.pieces)} pieces, "
        f"median {statistics.median(ours):.3f} s, worst {max(ours):.3f} s, "
        f"proved {sum(g <= 0 for g in gaps)}, worst gap {max(gaps):.2%}, "
        f"plain model takes {ratio:.1f} times as long (median; its worst {max(plain):.2f} s), "
        f"worse than it {worse}",
        flush=True,
    )


def _held_against_count(seeds: int) -> None:
    wrong, ratios = 0, []
    for seed in range(seeds):
        assembly = drawn_assembly(seed, pieces_n=15)
        began = time.perf_counter()
        way = way_to(assembly, "P014")
        took = time.perf_counter() - began
        began = time.perf_counter()
        least = risk_by_count(assembly, "P014")
        ratios.append((time.perf_counter() - began) / took)
        wrong += abs(way.risk - least) > 1e-6 or not way.proved
    print(
        f"against a count of all sets of 14 pieces: {seeds} graphs, {wrong} differ, "
        f"counting takes {statistics.median(ratios):.0f} times as long (median)"
    )


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--drawn", type=int, default=3)
    asked.add_argument("--pieces", type=int, default=300)
    asked.add_argument("--limit", type=float, default=10.0)
    told = asked.parse_args()
    way_to(drawn_assembly(0, pieces_n=10), "P009")  # the solver is loaded
    began = time.perf_counter()
    question = strip_question(strip_car())
    print(f"the invented car is read in {time.perf_counter() - began:.2f} s")
    car = question.assembly
    several = [name for name in car.named if any(car.ways[n] for n in car.behind(name))]
    _held_against_milp("the invented car", car, several, told.limit)
    for seed in range(told.drawn):
        assembly = drawn_assembly(seed, pieces_n=told.pieces)
        targets = list(assembly.named)[-10:]
        _held_against_milp(f"drawn {seed}", assembly, targets, told.limit)
    _held_against_count(5)


if __name__ == "__main__":
    main()
