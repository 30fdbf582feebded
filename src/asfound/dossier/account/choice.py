"""The choice over the car with its reasons, or what clashes."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from asfound.choose import Choice, Option, Problem
from asfound.dossier.account.car import currency_of
from asfound.dossier.numbers import plain, share, trimmed
from asfound.record.convert.locks import dissents_now, lock_reasons
from asfound.record.convert.significance import Weights, graded_pieces
from asfound.record.derived import ChoiceResult
from asfound.record.folder import CarFolder
from asfound.weigh.significance import GRADES

_NO_ZONE = "no zone"


def about_choice(car: CarFolder, problem: Problem, decided: ChoiceResult) -> dict[str, Any]:
    """Totals, front, and a table for each zone; the clash where nothing can be chosen."""
    if decided.choice is None:
        return {"possible": False, "clash": list(decided.clash), "currency": currency_of(car)}
    choice = decided.choice
    return {
        "possible": True,
        "currency": currency_of(car),
        "kept": share(choice.kept),
        "proved": "proved best"
        if choice.proved
        else f"not proved best: at most {share(choice.gap)} more",
        "totals": _totals(problem, choice),
        "lowest": trimmed(choice.lowest_grade),
        "terms": _terms(problem),
        "significance": _significance(car),
        "zones": _zones(car, problem, choice, decided),
        "front_n": len(decided.front.points) if decided.front else 0,
        "front_exact": decided.front.exact if decided.front else False,
    }


def _totals(problem: Problem, choice: Choice) -> list[list[str]]:
    brief = problem.brief
    rows = [["cost", plain(choice.cost), _limit(brief.cost_max)]]
    rows += [
        [f"hours of {trade.replace('_', ' ')}", trimmed(hours), _limit(brief.hours_max.get(trade))]
        for trade, hours in choice.hours.items()
    ]
    return rows


def _significance(car: CarFolder) -> dict[str, Any] | None:
    """Criteria with their weights and every graded piece; ``None`` where nothing was graded."""
    weights = Weights(car)
    graded = {name: weights.of(name) for name in graded_pieces(car)}
    if not graded:
        return None
    return {
        "criteria": [
            [one.name, trimmed(one.weight), one.meaning, one.source] for one in weights.criteria
        ],
        "counts": ", ".join(f"{word} {counts}" for word, counts in GRADES.items()),
        "pieces": [
            {
                "name": name,
                "grades": [[one.criterion, one.grade, one.reason, one.by] for one in weight.graded],
                "words": weight.words,
            }
            for name, weight in graded.items()
        ],
    }


def _terms(problem: Problem) -> list[str]:
    """What the brief forbids by kind of treatment, in sentences."""
    brief = problem.brief
    told = (
        ("Must not be touched", brief.untouched),
        ("Chosen only with evidence of the earlier state", brief.needs_evidence),
    )
    return [f"{words}: {', '.join(sorted(names))}." for words, names in told if names]


def _limit(value: float | None) -> str:
    return "no limit" if value is None else trimmed(value)


def _zones(
    car: CarFolder, problem: Problem, choice: Choice, decided: ChoiceResult
) -> list[dict[str, Any]]:
    options = {(o.subject, o.option): o for o in problem.options}
    whys = {why.subject: why for why in decided.whys}
    trades = tuple(choice.hours)
    reasons, dissents = lock_reasons(car), dissents_now(car)
    zones: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for subject in problem.subjects:
        option = options[subject.subject, choice.options[subject.subject]]
        why, lock = whys.get(subject.subject), reasons.get(subject.subject)
        zones[subject.zone or _NO_ZONE].append(
            _piece(option)
            | {
                "lock": lock.words if lock else "",
                "dissents": [one.words for one in dissents.get(subject.subject, ())],
                "because": _spoken(why.because, trades) if why else "",
                "runner_up": why.runner_up if why else "",
                "flips": _spoken(why.flips_when, trades) if why else "",
            }
        )
    return [{"zone": zone, "pieces": pieces} for zone, pieces in zones.items()]


def _spoken(text: str, trades: tuple[str, ...]) -> str:
    """Reason with trades in words: they are column names in the tables."""
    for trade in trades:
        text = text.replace(trade, trade.replace("_", " "))
    return text


def _piece(option: Option) -> dict[str, Any]:
    return {
        "subject": option.subject,
        "option": option.option,
        "treatment": option.treatment,
        "kept": f"{option.kept * 100:.0f}",
        "grade": trimmed(option.grade),
        "cost": plain(option.cost),
        "hours": trimmed(sum(option.hours.values())),
        "undoable": option.undoable,
    }
