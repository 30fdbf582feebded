"""What is computed from a car, kept under the hash of what it was computed from."""

from __future__ import annotations

import functools
import hashlib
import threading
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from django.conf import settings
from django.core.cache import cache

import asfound
from asfound.base import NoSolutionError, NotEnoughEvidenceError
from asfound.choose import (
    Choice,
    Front,
    Robustness,
    Turning,
    Why,
    by_contest,
    choose,
    explain,
    forcing_limits,
    front,
    robustness,
    turning,
)
from asfound.craft.salvage import Match
from asfound.measure.base_of_films import CarBuild, ExpectedFilm, expected_film
from asfound.measure.colour import CarColour, read_colour
from asfound.measure.film import FilmReading, read_film
from asfound.measure.gaps import GapResult, read_gaps
from asfound.measure.metal import CarMetal, read_metal
from asfound.measure.polish import STAY_PROBABILITY, PolishResult, read_polish
from asfound.plan import Past, Plan, Promise, critical_tasks
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.as_files import canonical_json
from asfound.record.convert.begun import begun_pieces
from asfound.record.convert.brief_terms import grounds_of
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.colour import colour_survey
from asfound.record.convert.doubts import doubt_of
from asfound.record.convert.evidence import eye_cap_of, priors_of
from asfound.record.convert.film import film_survey
from asfound.record.convert.gaps import gap_survey
from asfound.record.convert.history import history_of
from asfound.record.convert.metal import metal_survey
from asfound.record.convert.past import NO_PAST, finished, with_past
from asfound.record.convert.plan import ShopQuestion, shop_question
from asfound.record.convert.polish import polish_survey
from asfound.record.convert.salvage import StockState, matches_of
from asfound.record.evidence import all_claims, tells_kinds
from asfound.record.evidence.ledger import Ledger, ledger_of
from asfound.record.folder import CarFolder
from asfound.weigh.dates import HistoryReading, read_history
from asfound.weigh.evidence import Weighed, weigh

FILM_TABLES = ("panels", "film", "shims")
COLOUR_TABLES = ("panels", "colour", "instruments", "neighbours")
POLISH_TABLES = (*FILM_TABLES, "polish", "polish_floors")
GAP_TABLES = ("edges", "gaps", "instruments")
METAL_TABLES = ("car", "panels", "metal", "instruments", "sheet_nominals", "climates")
HISTORY_TABLES = ("events", "event_links")
CHOICE_TABLES = ("options", "option_links", "subjects", "colour", "criteria", "significance")
EVIDENCE_TABLES = (
    *("car", "parts", "evidence", "identifiers", "odometer", "wear", *HISTORY_TABLES),
    *("weighing", "priors", "number_weights"),
    *FILM_TABLES,
    *COLOUR_TABLES[1:],
)
PLAN_WORK_S = 5.0
"""Seconds of the solver's own clock that a page waits for; the command line may give it more."""
PLAN_TABLES = ("tasks", "task_links", "people", "bays", "holds")
REASONS_S = 3600.0
"""Seconds of search for all reasons of a large car, behind its page, where it can be stopped."""
TURNING_S = 120.0
"""Seconds of search for the numbers at which one decision turns; a page shows them as they come."""
POINTS = 30
_CORE = ("base", "craft", "measure", "weigh", "choose", "plan", "record/convert", "record/evidence")

_T = TypeVar("_T")
_guard = threading.Lock()
_locks: dict[str, tuple[threading.Lock, int]] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceResult:
    """The choice over a car, or what clashes.

    Parameters
    ----------
    choice : Choice or None
        ``None`` when nothing satisfies the requirements.
    front : Front or None
    whys : tuple of Why
    clash : tuple of str
        The requirements that cannot hold together; empty when there is a choice.
    forced : mapping of str to tuple of str
        By subject, the limits each of which, lifted alone, would change its option.
    """

    choice: Choice | None
    front: Front | None = None
    whys: tuple[Why, ...] = ()
    clash: tuple[str, ...] = ()
    forced: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanResult:
    """The plan of a car with its promise, or what stands in the way.

    Parameters
    ----------
    question : ShopQuestion
    plan : Plan or None
        ``None`` when there is none; ``clash`` then says why.
    promise : Promise or None
    critical : tuple of str
        Tasks that set the finish.
    clash : tuple of str
    """

    question: ShopQuestion
    plan: Plan | None
    promise: Promise | None = None
    critical: tuple[str, ...] = ()
    clash: tuple[str, ...] = ()


def film_reading(folder: CarFolder) -> FilmReading:
    """Reading of the finish.

    Raises
    ------
    InputFaultsError
        If the car has no film reading.
    """
    key = _key("film_reading", folder, FILM_TABLES)
    return _kept(key, lambda: read_film(film_survey(folder)))


def expected_build(base: Sequence[CarBuild], *, kind: str, year: float) -> ExpectedFilm:
    """Level of film expected of a car of that kind and year from the workshop's own base."""
    cars = [[b.car, b.kind, b.year, b.level_um, b.u_log] for b in base]
    key = _key("expected_build", CarFolder(), (), base=cars, kind=kind, year=year)
    return _kept(key, lambda: expected_film(base, kind=kind, year=year))


def colour_reading(folder: CarFolder) -> CarColour:
    """Reading of the colour.

    Raises
    ------
    InputFaultsError
        If the car has no colour reading.
    """
    key = _key("colour_reading", folder, COLOUR_TABLES)
    return _kept(key, lambda: read_colour(colour_survey(folder)))


def polish_reading(
    folder: CarFolder, *, stay_probability: float = STAY_PROBABILITY
) -> PolishResult:
    """What passes of polish take, what is left above the floors, and how many may follow.

    Raises
    ------
    NotEnoughEvidenceError
        If nothing was polished and no floor is set.
    InputError
        If the probability is not 0.5 or more and below 1.
    """
    key = _key("polish_reading", folder, POLISH_TABLES, stay_probability=stay_probability)
    return _kept(key, lambda: read_polish(polish_survey(folder), stay_probability=stay_probability))


def gaps_reading(folder: CarFolder) -> GapResult:
    """Gap and flush of every edge, and how twins mirror.

    Raises
    ------
    NotEnoughEvidenceError
        If no edge is named and no gap was read.
    """
    key = _key("gaps_reading", folder, GAP_TABLES)
    return _kept(key, lambda: read_gaps(gap_survey(folder)))


def salvage_matches(need: Mapping[str, str], stock: Sequence[StockState]) -> tuple[Match, ...]:
    """Pieces of the salvage stock held against a need, the best first.

    Raises
    ------
    InputError
        If the need asks what cannot be.
    """
    told = [state.told() for state in stock]
    key = _key("salvage_matches", CarFolder(), (), need=dict(need), stock=told)
    return _kept(key, lambda: matches_of(need, stock))


def metal_reading(folder: CarFolder) -> CarMetal:
    """Loss and remaining life of the sheet metal that was read.

    Raises
    ------
    InputFaultsError
        If the car has no reading of sheet thickness, or what it is held against cannot be read.
    """
    key = _key("metal_reading", folder, METAL_TABLES)
    return _kept(key, lambda: read_metal(metal_survey(folder)))


def history_reading(
    folder: CarFolder, *, seed: int = 0, without: Collection[tuple[str, str]] = ()
) -> HistoryReading:
    """When things happened to the car, and which statements clash.

    What is named in ``without``, windows of events and links, is left out for a look.

    Raises
    ------
    InputFaultsError
        If an event or a link cannot be read.
    """
    left_out = sorted(map(list, without))
    key = _key("history_reading", folder, HISTORY_TABLES, seed=seed, without=left_out)
    return _kept(key, lambda: read_history(history_of(folder, without=without), seed=seed))


def weighed_evidence(folder: CarFolder) -> tuple[Weighed, ...]:
    """Every claim of the car weighed, with what people wrote and what the program derives.

    Raises
    ------
    InputFaultsError
        If a row of evidence cannot be weighed.
    """
    return _kept(_key("weighed_evidence", folder, EVIDENCE_TABLES), lambda: _weigh(folder))


def _weigh(folder: CarFolder) -> tuple[Weighed, ...]:
    film = _where_read(folder, "film", film_reading)
    colour = _where_read(folder, "colour", colour_reading)
    history = history_reading(folder) if tells_kinds(folder) else None
    cap, priors = eye_cap_of(folder), priors_of(folder)
    return tuple(
        weigh(claim, eye_cap=cap, declared=priors.get(claim.key))
        for claim in all_claims(folder, film=film, colour=colour, history=history)
    )


def found_ledger(folder: CarFolder) -> Ledger:
    """State of every piece as found, and the shares they come to.

    Raises
    ------
    InputFaultsError
        If a row of evidence cannot be weighed.
    """
    key = _key("found_ledger", folder, (*EVIDENCE_TABLES, "state_rules"))
    return _kept(key, lambda: _ledger(folder))


def _ledger(folder: CarFolder) -> Ledger:
    film = _where_read(folder, "film", film_reading)
    return ledger_of(folder, weighed=weighed_evidence(folder), film=film)


def _where_read(folder: CarFolder, table: str, read: Callable[[CarFolder], _T]) -> _T | None:
    """Reading of a table; none where it is empty or says too little."""
    if not len(folder.sheet(table)):
        return None
    try:
        return read(folder)
    except NotEnoughEvidenceError:
        return None


def choice_result(folder: CarFolder, *, points: int = POINTS) -> ChoiceResult:
    """Choice over the car with its front of at most ``points`` points and its reasons.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    """
    result = _kept(choice_key(folder, points=points), lambda: _choose(folder, points))
    if not settings.configured or all(why.proved for why in result.whys):
        return result
    more = cache.get(reasons_key(folder), {})
    return replace(result, whys=by_contest(more.get(why.subject, why) for why in result.whys))


def exact_reasons(folder: CarFolder, *, progress: Callable[[float], None] | None = None) -> None:
    """Ask for the reasons that :func:`choice_result` had no time for; it tells them from then on.

    What was found when ``progress`` raises ``StoppedError`` is kept.
    """
    result = choice_result(folder)
    if result.choice is None:
        return
    found = {why.subject: why for why in result.whys if why.proved}

    def keep(why: Why) -> None:
        if why.proved:  # kept at once: who stops the search may end its process
            found[why.subject] = why
            cache.set(reasons_key(folder), found)

    try:
        explain(
            choice_problem(folder),
            result.choice,
            time_limit_s=REASONS_S,
            known=dict(found),
            keep=keep,
            progress=progress,
        )
    finally:
        cache.set(reasons_key(folder), found)


def reasons_key(folder: CarFolder) -> str:
    """Name under which the reasons that were found later are kept."""
    return _choice_key("exact_reasons", folder)


def choice_key(folder: CarFolder, *, points: int = POINTS) -> str:
    """Name under which :func:`choice_result` is kept."""
    return _choice_key("choice_result", folder, points=points)


def has_choice_result(folder: CarFolder, *, points: int = POINTS) -> bool:
    """Whether :func:`choice_result` would answer at once."""
    return settings.configured and cache.get(choice_key(folder, points=points)) is not None


def chosen_now(folder: CarFolder) -> Choice:
    """Choice over the car alone, without its front and its reasons.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    NoSolutionError
        If nothing satisfies the brief.
    """
    key = _choice_key("chosen_now", folder)
    return _kept(key, lambda: choose(choice_problem(folder)))


def _choose(folder: CarFolder, points: int) -> ChoiceResult:
    problem = choice_problem(folder)
    try:
        choice = chosen_now(folder)
    except NoSolutionError as error:
        return ChoiceResult(choice=None, clash=error.clash)
    return ChoiceResult(
        choice=choice,
        front=front(problem, points=points),
        whys=explain(problem, choice),
        forced=forcing_limits(problem, choice.options),
    )


def turning_of(
    folder: CarFolder, subject: str, *, progress: Callable[[float], None] | None = None
) -> Turning:
    """The numbers at which the decision on one piece turns.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    NoSolutionError
        If nothing satisfies the brief.
    StoppedError
        If ``progress`` raised it.
    """
    return _kept(
        turning_key(folder, subject),
        lambda: turning(
            choice_problem(folder),
            chosen_now(folder),
            subject,
            time_limit_s=TURNING_S,
            progress=progress,
        ),
    )


def turning_key(folder: CarFolder, subject: str) -> str:
    """Name under which :func:`turning_of` is kept."""
    return _choice_key("turning_of", folder, subject=subject)


def decisions_in_doubt(
    folder: CarFolder, *, draws: int, progress: Callable[[float], None] | None = None
) -> Robustness:
    """Which decisions of the choice hold when hours, costs and verdicts vary within their doubt.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    NoSolutionError
        If nothing satisfies the brief.
    StoppedError
        If ``progress`` raised it.
    """
    return _kept(
        doubt_key(folder, draws=draws),
        lambda: robustness(
            choice_problem(folder),
            chosen_now(folder).options,
            doubt=doubt_of(folder, weighed=weighed_evidence(folder)),
            draws=draws,
            progress=progress,
        ),
    )


def doubt_key(folder: CarFolder, *, draws: int) -> str:
    """Name under which :func:`decisions_in_doubt` is kept."""
    more = (*EVIDENCE_TABLES, "state_rules")
    return _choice_key("decisions_in_doubt", folder, tables=more, draws=draws)


def _choice_key(name: str, folder: CarFolder, *, tables: tuple[str, ...] = (), **more: Any) -> str:
    """Key of what is computed from the choice; of work it holds what was begun, not each hour."""
    begun = {subject: one.words for subject, one in begun_pieces(folder).items()}
    grounds = grounds_of(folder).told()
    return _key(
        name,
        folder,
        (*CHOICE_TABLES, *tables),
        brief=folder.brief,
        begun=begun,
        grounds=grounds,
        **more,
    )


def plan_result(
    folder: CarFolder, *, start: date | None = None, past: Past = NO_PAST
) -> PlanResult:
    """Plan of the car from a day on, with the day that can be promised as ``past`` lets expect.

    Raises
    ------
    InputFaultsError
        With everything that stands against a plan, each at its row.
    """
    return _kept(plan_key(folder, start=start, past=past), lambda: _plan(folder, start, past))


def plan_key(folder: CarFolder, *, start: date | None = None, past: Past = NO_PAST) -> str:
    """Name under which :func:`plan_result` is kept."""
    told = start.isoformat() if start else ""
    if not past.jobs:
        return _key("plan_result", folder, PLAN_TABLES, start=told)
    jobs = [[j.trade, j.kind, j.estimate_h, j.actual_h] for j in past.jobs]
    done = sorted(finished(folder))
    return _key("plan_result", folder, PLAN_TABLES, start=told, past=jobs, done=done)


def plan_at_hand(folder: CarFolder, *, past: Past = NO_PAST) -> PlanResult | None:
    """Plan of the car from its own first day where one was made of what it is now; never made anew.

    For pages that cannot wait for a plan and do without.
    """
    found: PlanResult | None = cache.get(plan_key(folder, past=past))
    return found


def _plan(folder: CarFolder, start: date | None, past: Past) -> PlanResult:
    question = shop_question(folder, start=start)
    if past.jobs:
        question = with_past(question, past, done=finished(folder))
    try:
        plan = plan_work(question.problem, work_s=PLAN_WORK_S)
    except NoSolutionError as error:
        return PlanResult(question=question, plan=None, clash=error.clash)
    return PlanResult(
        question=question,
        plan=plan,
        promise=promise_day(question.problem, plan, shared=past.shared),
        critical=critical_tasks(question.problem, plan),
    )


def _key(name: str, folder: CarFolder, tables: tuple[str, ...], **more: Any) -> str:
    return f"{name}:{inputs_hash(folder, tables, name=name, **more)}"


def inputs_hash(folder: CarFolder, tables: tuple[str, ...], **more: Any) -> str:
    """SHA-256 over the tables, what else is named, and the program that computes from them."""
    used = {
        table: [sheet.columns, sheet.rows]
        for table in tables
        if (sheet := folder.sheets.get(table)) is not None
    }
    told = {"program": _program(), "tables": used, "more": _plain(more)}
    return hashlib.sha256(canonical_json(told)).hexdigest()


@functools.cache
def _program() -> str:
    """SHA-256 over the source of the core: what another version computed is not this one's."""
    root = Path(asfound.__file__).parent
    sources = sorted(p for room in _CORE for p in (root / room).rglob("*.py"))
    return hashlib.sha256(b"".join(path.read_bytes() for path in sources)).hexdigest()


def _plain(content: Any) -> Any:
    """Read-only mappings as dictionaries, which JSON can write."""
    if hasattr(content, "items"):
        return {key: _plain(value) for key, value in content.items()}
    return content


def _kept(key: str, compute: Callable[[], _T]) -> _T:
    """Result from the cache, or computed; without Django set up there is no cache."""
    if not settings.configured:
        return compute()
    with _lock_of(key):
        found: _T | None = cache.get(key)
        if found is None:
            found = compute()
            cache.set(key, found)
    return found


@contextmanager
def _lock_of(key: str) -> Iterator[None]:
    """One thread computes; others that want the same wait for it instead of doing it again."""
    with _guard:
        lock, waiting = _locks.get(key, (threading.Lock(), 0))
        _locks[key] = lock, waiting + 1
    try:
        with lock:
            yield
    finally:
        with _guard:
            lock, waiting = _locks.pop(key)
            if waiting > 1:
                _locks[key] = lock, waiting - 1
