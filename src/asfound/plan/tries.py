"""The best of many greedy plans, each bettered by going back and forth."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from asfound.base import EnoughError
from asfound.plan.cars import Cars
from asfound.plan.draft import Draft
from asfound.plan.greedy import place_all, pushed_right
from asfound.plan.plan import Progress
from asfound.plan.reach import HorizonError, Reach
from asfound.plan.shop import Shop

WORK = 60_000
"""Tasks placed in all the tries together."""
PASSES_A_TASK = 8
LEAST_PASSES = 10
"""Few tasks need few passes, and many tasks get some."""
_SHARE_ABROAD = 0.5
_BLUR_ABROAD = 0.3
_BLUR_NEARBY = 0.05
_SHIFT = 0.3
_SHARES_BLURRED = (0.1, 0.3, 1.0)
"""Shares of the longest chain or of the finish by which ranks are blurred and cars shifted."""

Merit = tuple[float, float, float]
"""Lateness of what is due, then what is to be made small, then the finish: less is better."""


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class Tries:
    """Greedy plans of one shop.

    Parameters
    ----------
    shop : Shop
    reach : mapping of str to Reach
    fixed : Draft
        Tasks that stay where they are.
    floor : int
        Tick before which no other task starts.
    """

    shop: Shop
    reach: Mapping[str, Reach]
    fixed: Draft
    floor: int = 0

    @cached_property
    def cars(self) -> Cars:
        """What the cars' finishes cost."""
        return Cars(shop=self.shop)

    def first(self) -> Draft:
        """The plan in which what is followed by most comes first.

        Raises
        ------
        HorizonError
            If the shop's days are too few for it.
        """
        return self._placed({name: -self._tail(name) for name in self.reach})

    def best(
        self, draft: Draft, *, seed: int, enough: int, progress: Progress | None = None
    ) -> Draft:
        """The best of many: abroad in the ranks of the first, then near the best so far.

        Parameters
        ----------
        draft : Draft
            The first.
        seed : int
        enough : int
            A value that no plan can beat (`Cars.value`): whoever has it looks no further.
        progress : callable or None
            Called before each try with the share of the passes made; what it raises stops them,
            ``EnoughError`` with the best so far.

        Notes
        -----
        Random sampling of priorities (Kolisch and Hartmann 2006, Experimental investigation of
        heuristics for resource-constrained project scheduling, EJOR 174, 23–37) with forward and
        backward passes (Tormos and Lova 2001, Annals of Operations Research 102, 65–81). The
        number of passes is fixed, so that the same seed gives the same plan on every machine.
        """
        rng, used = np.random.default_rng(seed), 0
        count = max(len(self.reach), 1)
        passes = max(LEAST_PASSES, min(PASSES_A_TASK * count, WORK // count))
        best, took = self._back_and_forth(draft)
        if self.cars.several:
            best = min(best, self._car_by_car(best), key=self.merit)
        ideal = (0, enough, math.inf)
        while (used := used + took) < passes and self.merit(best) > ideal:
            if _is_enough(progress, used / passes):
                break
            near = used > _SHARE_ABROAD * passes
            rank = self._nearby(best, rng) if near else self._abroad(used / passes, rng)
            try:
                found, took = self._back_and_forth(self._placed(rank))
            except HorizonError:
                took = 1
                continue
            if self.merit(found) <= self.merit(best):
                best = found
        return best

    def bettered(
        self, best: Draft, *, seed: int, placed: int, enough: int, progress: Progress | None = None
    ) -> Draft:
        """The best after so many more tasks were placed in its order, now and then changed.

        Parameters
        ----------
        best : Draft
        seed : int
        placed : int
            Tasks placed in all the tries together, so that every machine tries as many.
        enough : int
        progress : callable or None
            As in :meth:`best`.

        Notes
        -----
        A task's place in the order is drawn between its start and its latest start for the same
        finish of its car, and of a few or of all tasks it is blurred besides.
        """
        rng, used, took = np.random.default_rng(seed), 0, 0
        passes, ideal = placed // max(len(self.reach), 1), (0, enough, math.inf)
        late = pushed_right(self.shop, best, fixed=self.fixed)
        while (used := used + took) < passes and self.merit(best) > ideal:
            if _is_enough(progress, used / passes):
                break
            try:
                found, took = self._back_and_forth(self._placed(self._between(best, late, rng)))
            except HorizonError:
                took = 1
                continue
            if self.merit(found) <= self.merit(best):
                best = found
                late = pushed_right(self.shop, best, fixed=self.fixed)
        return best

    def _between(self, best: Draft, late: Draft, rng: np.random.Generator) -> dict[str, float]:
        share = rng.random()
        blur = rng.normal(0.0, _BLUR_NEARBY * best.finish * rng.random() ** 2, len(self.reach))
        blur *= rng.random(len(self.reach)) < rng.choice(_SHARES_BLURRED)
        return {
            n: share * best.start[n] + (1 - share) * late.start[n] + float(b)
            for n, b in zip(self.reach, blur, strict=True)
        }

    def merit(self, draft: Draft) -> Merit:
        """How good a plan is; less is better."""
        return lateness(self.shop, draft), self.cars.value(draft), draft.finish

    def _car_by_car(self, best: Draft) -> Draft:
        """Each car before the next, by the rule of Smith; the best so far if that does not fit."""
        place = {car: i * self.shop.total for i, car in enumerate(self.cars.by_worth())}
        named = self.shop.problem.named
        try:
            found = self._placed({n: place[named[n].car] - self._tail(n) for n in self.reach})
            return self._back_and_forth(found)[0]
        except HorizonError:
            return best

    def _placed(self, rank: Mapping[str, float]) -> Draft:
        floors = dict.fromkeys(rank, self.floor)
        return place_all(self.shop, rank, fixed=self.fixed, floors=floors)

    def _back_and_forth(self, draft: Draft) -> tuple[Draft, int]:
        """Each task as late as it goes, then in that order as early, while that is better.

        Returns
        -------
        tuple
            The plan, and how many passes that took.
        """
        took = 1
        while True:
            late = pushed_right(self.shop, draft, fixed=self.fixed)
            again = self._placed({name: float(start) for name, start in late.start.items()})
            took += 2
            if self.merit(again) >= self.merit(draft):
                return draft, took
            draft = again

    def _tail(self, name: str) -> float:
        """Ticks from the start of a task to the finish, at least."""
        one = self.reach[name]
        return float(one.tail + one.end - one.start)

    def _abroad(self, share: float, rng: np.random.Generator) -> dict[str, float]:
        """What is followed by most first, with more blur the more tries were made."""
        longest = max(map(self._tail, self.reach)) or 1.0
        blur = rng.normal(0.0, _BLUR_ABROAD * longest * share, len(self.reach))
        blur -= self._moved_up(longest, rng)
        return {n: float(b) - self._tail(n) for n, b in zip(self.reach, blur, strict=True)}

    def _nearby(self, best: Draft, rng: np.random.Generator) -> dict[str, float]:
        """The order of the best so far, blurred; of several cars, those that matter more go up."""
        blur = rng.normal(0.0, _BLUR_NEARBY * best.finish * rng.random(), len(self.reach))
        blur -= self._moved_up(_SHIFT * best.finish, rng)
        return {n: best.start[n] + float(b) for n, b in zip(self.reach, blur, strict=True)}

    def _moved_up(self, span: float, rng: np.random.Generator) -> npt.NDArray[np.float64]:
        """By how much each task is moved up, drawn by car, more where its weight is more."""
        if not self.cars.several:
            return np.zeros(len(self.reach))
        most = max(self.cars.weights.values())
        up = {car: span * rng.random() * w / most for car, w in self.cars.weights.items()}
        return np.array([up[self.shop.problem.named[name].car] for name in self.reach])


def _is_enough(progress: Progress | None, share: float) -> bool:
    """Tell the share that is done, and hear whether the best so far is taken."""
    try:
        if progress:
            progress(share)
    except EnoughError:
        return True
    return False


def lateness(shop: Shop, draft: Draft) -> int:
    """Ticks by which tasks miss their due days, all together."""
    return sum(max(0, draft.end[name] - tick) for name, tick in shop.dues.items())
