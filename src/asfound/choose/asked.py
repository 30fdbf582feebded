"""The questions behind the reasons: the whole car chosen again without one piece's option."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from asfound.choose import reason
from asfound.choose.answer import Choice
from asfound.choose.arithmetic import Amount, Ledger
from asfound.choose.eligible import eligible, options_of
from asfound.choose.model import Model
from asfound.choose.problem import Option, Problem, Subject
from asfound.choose.search import build, most_kept
from asfound.choose.swap import Swap, Swaps
from asfound.choose.why import Why


class Asked:
    """The choice, the swaps around it and the model that chooses again."""

    def __init__(self, problem: Problem, choice: Choice, *, time_limit_s: float) -> None:
        self.problem, self.chosen = problem, choice.options
        self.model: Model = build(problem, time_limit_s=time_limit_s, spare=choice.options)
        self.ledger: Ledger = self.model.ledger
        self.swaps = Swaps(problem, self.ledger, choice.options)
        self.options = options_of(problem)
        self.subjects: dict[str, Subject] = {s.subject: s for s in problem.subjects}
        self.allowed = eligible(problem)
        self.total = {
            a.name: self.ledger.total(a, choice.options)
            for a in (self.ledger.kept, self.ledger.cost, *self.ledger.by_trade.values())
        }
        self._near = {name: self._swaps_of(name) for name in self.options}

    def _swaps_of(self, name: str) -> list[Swap]:
        others = [o for o in self.allowed[name] if o != self.chosen[name]]
        return sorted(
            (self.swaps.of(name, o) for o in others), key=lambda s: (s.kept_lost, s.cost_change)
        )

    def by_contest(self) -> list[str]:
        """Subjects by the loss of their best swap within the brief, forced ones last."""

        def loss(name: str) -> tuple[int, Fraction]:
            fits = [s.kept_lost for s in self._near[name] if not s.shortages]
            every = [s.kept_lost for s in self._near[name]]
            if not every or self._forced(name) is not None:
                return 2, Fraction(0)
            return (0, min(fits)) if fits else (1, min(every))

        return sorted(self.options, key=lambda name: (*loss(name), name))

    def why(self, name: str) -> Why:
        """The reason of one subject."""
        forced = self._forced(name)
        if forced is not None:
            return self._lone(name, forced)
        if self.model.left_s <= 0:
            return self._by_swap(name)
        self.model.bar((name, self.chosen[name]))
        fits = [s.option for s in self._near[name] if not s.shortages]
        start = {**self.chosen, name: fits[0]} if fits else None
        found = most_kept(self.model, start, then_hours=False)
        self.model.bar((name, self.chosen[name]), barred=False)
        if found.options is None and found.proved:
            return self._lone(name, self._only(name))
        if found.options is None or not found.proved:
            return self._by_swap(name)
        return self._by_choice(name, found.options)

    def _forced(self, name: str) -> reason.Reason | None:
        return reason.forced(self.problem, self.subjects[name], self.options[name])

    def _lone(self, name: str, why: reason.Reason, *, proved: bool = True) -> Why:
        return Why(
            subject=name,
            option=self.chosen[name],
            because=why.because,
            runner_up="",
            kept_lost=None,
            cost_change=None,
            hours_change={},
            flips_when=why.flips_when,
            proved=proved,
        )

    def _by_choice(self, name: str, options: Mapping[str, str]) -> Why:
        ledger = self.ledger

        def change(amount: Amount) -> Fraction:
            return amount.value(ledger.total(amount, options) - self.total[amount.name])

        lost = -change(ledger.kept) / ledger.weight
        why = self._reason(name, options[name], lost, change(ledger.cost))
        return Why(
            subject=name,
            option=self.chosen[name],
            because=why.because,
            runner_up=options[name],
            kept_lost=float(lost),
            cost_change=float(change(ledger.cost)),
            hours_change={t: float(change(a)) for t, a in ledger.by_trade.items()},
            with_it={
                other: option
                for other, option in options.items()
                if other != name and option != self.chosen[other]
            },
            flips_when=why.flips_when,
        )

    def _by_swap(self, name: str) -> Why:
        fits = [s for s in self._near[name] if not s.shortages]
        if not fits:
            held = self._near[name][0]
            words = "time was too short to choose again without it"
            return self._lone(name, reason.held_back(held, words), proved=False)
        best = fits[0]
        why = self._reason(name, best.option, best.kept_lost, best.cost_change)
        return Why(
            subject=name,
            option=self.chosen[name],
            because=why.because,
            runner_up=best.option,
            kept_lost=float(best.kept_lost),
            cost_change=float(best.cost_change),
            hours_change={t: float(h) for t, h in best.hours_change.items()},
            flips_when=why.flips_when,
            proved=False,
        )

    def _reason(self, name: str, other: str, lost: Fraction, dearer: Fraction) -> reason.Reason:
        if lost <= 0:
            return reason.tie(other, dearer)
        better = self._better(name)
        if better:
            return reason.held_back(better[0], reason.loses(self.chosen[name], lost))
        named: dict[str, Option] = {o.option: o for o in self.options[name]}
        mine = named[self.chosen[name]]
        return reason.best_kept(self.subjects[name], mine, named[other], lost, self.ledger.weight)

    def _only(self, name: str) -> reason.Reason:
        better = self._better(name)
        if better:
            return reason.held_back(better[0], reason.forces(self.chosen[name]))
        return reason.only_possible()

    def _better(self, name: str) -> list[Swap]:
        """Options that would keep more here if they fitted, the one that keeps most first."""
        return [s for s in self._near[name] if s.kept_lost < 0 and s.shortages]
