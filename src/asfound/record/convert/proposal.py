"""A choice over the car becomes what an owner is shown and signs."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any

from asfound.choose import Option, Problem
from asfound.choose.answer import sum_up
from asfound.choose.arithmetic import open_ledger
from asfound.record.convert.begun import Begun, begun_pieces
from asfound.record.convert.holds import Hold, open_holds
from asfound.record.convert.locks import dissents_now, lock_reasons
from asfound.record.convert.significance import graded_pieces
from asfound.record.convert.treatment_words import words_of
from asfound.record.convert.weeks import weeks_of
from asfound.record.folder import CarFolder

_DIGITS = 6
_MONEY = 2


def sums_of(car: CarFolder, problem: Problem, options: Mapping[str, str]) -> dict[str, Any]:
    """Kept, cost, hours by trade, weeks, lowest and mean finish of one option for every piece."""
    total = sum_up(problem, open_ledger(problem), options, proved=False, gap=0.0)
    named = {(o.subject, o.option): o for o in problem.options}
    grades = [named[key].grade for key in options.items()]
    weeks = weeks_of(car, total.hours)
    return {
        "kept": round(total.kept, _DIGITS),
        "cost": round(total.cost, _MONEY),
        "hours": {trade: round(h, _MONEY) for trade, h in total.hours.items()},
        "weeks": None if weeks is None else round(weeks, _MONEY),
        "lowest_grade": total.lowest_grade,
        "mean_grade": round(sum(grades) / len(grades), _MONEY),
    }


def proposal_content(
    car: CarFolder,
    problem: Problem,
    options: Mapping[str, str],
    *,
    reasons: Mapping[str, str],
    signed: Mapping[str, Any] | None = None,
    promise: str = "",
    promise_moves: int | None = None,
    asked: Collection[str] | None = None,
) -> dict[str, Any]:
    """Pieces and sums of a proposal, and what changes against the one that was signed.

    The sums are those of the whole car, whichever of its pieces are put to the owner.

    Parameters
    ----------
    car : CarFolder
    problem : Problem
    options : mapping of str to str
        One option for every piece.
    reasons : mapping of str to str
        Why, by piece.
    signed : mapping or None
        Content of the proposal that stands.
    promise : str
        ISO day by which the plan is finished in 8 of 10 draws; empty where no plan was made.
    promise_moves : int or None
        Days by which what changes moves that day; none where that is not known.
    asked : collection of str, optional
        Pieces that are put to the owner; the others stay open. All of them if not given.
    """
    named = {(o.subject, o.option): o for o in problem.options}
    zones = {s.subject: s.zone for s in problem.subjects}
    before = {piece["subject"]: piece for piece in signed["pieces"]} if signed else {}
    decided, graded = _decided(car), graded_pieces(car)
    photos, begun = _photos(car), begun_pieces(car)
    by_file = {row.text("file"): row.text("sha256") for row in car.sheet("photos")}
    holds = [one for one in open_holds(car) if one.reopens]
    answered = {  # pieces whose lock no longer tells why they are treated so
        one.subject
        for one in holds
        if (key := (one.subject, options.get(one.subject, ""))) in named
        and one.subject in before
        and not is_as_signed(before[one.subject], named[key])
    }
    locked = {row.text("subject"): row.text("locked_option") for row in car.sheet("subjects")}
    pieces = [
        _piece(named[key], zones.get(key[0], ""), reasons.get(key[0], ""), photos.get(key[0]))
        | _change(before.get(key[0]), named[key], signed is not None)
        | _found(holds, by_file, before.get(key[0]), named[key], photos.get(key[0]))
        | _begun(begun.get(key[0]), locked.get(key[0], ""), key[1])
        | decided.get(key, _UNDECIDED)
        | ({"lock": ""} if key[0] in answered else {})
        | {"matters": [one.words for one in graded.get(key[0], ())]}
        for key in sorted(options.items(), key=lambda key: (zones.get(key[0], ""), key[0]))
        if asked is None or key[0] in asked
    ]
    told = {"promise": promise or None, "promise_moves": promise_moves}
    sums = {**sums_of(car, problem, options), **told}
    return {
        "currency": next((row.text("currency") for row in car.sheet("car")), ""),
        "brief": dict(car.brief) if car.brief else None,
        "sums": sums,
        "pieces": pieces,
        "effect": effect_of(signed["sums"], sums) if signed else None,
        "left_open": len(options) - len(pieces),
    }


def _piece(option: Option, zone: str, reason: str, photo: str | None) -> dict[str, Any]:
    words = words_of(option.treatment)
    return {
        "subject": option.subject,
        "zone": zone,
        "option": option.option,
        "treatment": option.treatment,
        "does": words.does,
        "loses": words.loses,
        "is_final": words.is_final or option.undoable == "no",
        "undoable": option.undoable,
        "kept": option.kept,
        "grade": option.grade,
        "cost": option.cost,
        "hours": _hours(option),
        "because": reason,
        "photo": photo,
    }


def _hours(option: Option) -> float:
    return round(sum(option.hours.values()), _MONEY)


def is_as_signed(before: Mapping[str, Any], option: Option) -> bool:
    """Whether a piece has the option that was signed, with what it keeps, costs and takes."""
    now = (option.option, option.kept, option.cost, _hours(option))
    return now == tuple(before[name] for name in ("option", "kept", "cost", "hours"))


def _found(
    holds: Iterable[Hold],
    by_file: Mapping[str, str],
    before: Mapping[str, Any] | None,
    option: Option,
    photo: str | None,
) -> dict[str, Any]:
    """Findings that reopened the piece, with their photographs, where something else answers.

    A photograph that a finding shows is not the one before the work as well.
    """
    found = [one for one in holds if one.subject == option.subject]
    if not found or before is None or is_as_signed(before, option):
        return {"findings": [], "found_photos": []}
    findings = [one.finding for one in found]
    files = dict.fromkeys(file for one in found for file in one.photos)
    shown = [by_file[file] for file in files if by_file.get(file)]
    return {
        "findings": findings,
        "found_photos": shown,
        "photo": None if photo in shown else photo,
        "because": f"found at work: {'; '.join(findings)}",
    }


def _begun(begun: Begun | None, held: str, option: str) -> dict[str, Any]:
    """Why the piece is held, and whether the proposal turns what was begun."""
    if begun is None:
        return {"begun": "", "turns_begun": False}
    return {"begun": begun.words, "turns_begun": held not in ("", option)}


_UNDECIDED: dict[str, Any] = {"lock": "", "dissents": []}


def _decided(car: CarFolder) -> dict[tuple[str, str], dict[str, Any]]:
    """Why a person fixed an option and who would not have, in words, by piece and option."""
    reasons, dissents = lock_reasons(car), dissents_now(car)
    told: dict[tuple[str, str], dict[str, Any]] = {
        (subject, lock.option): {**_UNDECIDED, "lock": lock.words}
        for subject, lock in reasons.items()
    }
    for subject, several in dissents.items():
        key = (subject, several[0].option)
        told[key] = told.get(key, _UNDECIDED) | {"dissents": [one.words for one in several]}
    return told


def _change(before: Mapping[str, Any] | None, option: Option, follows: bool) -> dict[str, Any]:
    if not follows or (before is not None and is_as_signed(before, option)):
        return {"was": None}
    if before is None:
        return {"was": "not in the proposal before"}
    same = ", with other numbers" if before["option"] == option.option else ""
    return {"was": f"{before['treatment']}{same}"}


def effect_of(before: Mapping[str, Any], after: Mapping[str, Any]) -> dict[str, Any]:
    """What sums change against those that were signed."""
    weeks = (before.get("weeks"), after["weeks"])
    first, second = before.get("promise"), after.get("promise")
    return {
        "kept": round(after["kept"] - before["kept"], _DIGITS),
        "cost": round(after["cost"] - before["cost"], _MONEY),
        "hours": round(sum(after["hours"].values()) - sum(before["hours"].values()), _MONEY),
        "weeks": None if None in weeks else round(weeks[1] - weeks[0], _MONEY),
        "days": _days(first, second) if first and second else None,
    }


def _days(first: str, second: str) -> int:
    return (date.fromisoformat(second) - date.fromisoformat(first)).days


def _photos(car: CarFolder) -> dict[str, str]:
    """One photograph of each piece, the first before the work."""
    found: dict[str, str] = {}
    for row in car.sheet("photos"):
        if row.text("stage") in ("", "before"):
            found.setdefault(row.text("subject"), row.text("sha256"))
    return found
