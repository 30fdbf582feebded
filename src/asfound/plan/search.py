"""One run of the solver: the same input gives the same answer, and a person can stop it."""

from __future__ import annotations

import threading
from dataclasses import dataclass

from ortools.sat.python import cp_model

from asfound.base import EnoughError
from asfound.plan.plan import Progress

_LOOK_S = 0.2
_WORKERS = 2
_NARROW, _WIDE = 0.28, 0.2
"""Steps of the solver's own clock in a second, measured on published projects of 30 and 60 tasks
on two cores of a machine of 2025."""
_LARGE = 1500
"""Variables with which a step takes twice as long, measured with 2 to 100 thousand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How hard to search.

    Parameters
    ----------
    work_s : float
        Seconds of a clock that counts the solver's steps and not time, so that a slower machine
        finds the same plan later; about a second each on a machine of 2025.
    seed : int
    wide : bool
        Part of the plan is let go and planned anew, again and again, which betters large plans;
        else one search of the whole, which proves small ones.
    linear : bool
        Whether to reckon with the linear relaxation: it helps where costs add up, and only costs
        time where the last finish counts.
    """

    work_s: float
    seed: int
    wide: bool
    linear: bool


def scaled(cp: cp_model.CpModel, effort: Effort) -> float:
    """The solver's own clock for an effort."""
    a_second = _WIDE if effort.wide else _NARROW
    return effort.work_s * a_second / (1 + len(cp.proto.variables) / _LARGE)


def run(
    cp: cp_model.CpModel, effort: Effort, *, progress: Progress | None = None
) -> tuple[cp_model.CpSolver, cp_model.CpSolverStatus]:
    """The solver after its search, and how that ended.

    Parameters
    ----------
    cp : CpModel
    effort : Effort
    progress : callable or None
        Called a few times a second with a share that grows towards 1, in the caller's thread;
        what it raises stops the search and is raised here, but for ``EnoughError``: then the
        search ends with what it has.
    """
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = scaled(cp, effort)
    solver.parameters.random_seed = effort.seed
    solver.parameters.num_workers = _WORKERS if effort.wide else 1
    # Workers wait for each other after each batch, so that all goes alike on every machine.
    solver.parameters.interleave_search = effort.wide
    solver.parameters.interleave_batch_size = _WORKERS
    solver.parameters.use_lns_only = effort.wide and bool(cp.proto.solution_hint.vars)
    if not effort.linear:
        solver.parameters.linearization_level = 0
    solver.parameters.log_to_stdout = False
    if progress is None:
        return solver, solver.solve(cp)
    return solver, _watched(solver, cp, effort.work_s, progress)


def _watched(
    solver: cp_model.CpSolver, cp: cp_model.CpModel, work_s: float, progress: Progress
) -> cp_model.CpSolverStatus:
    """Search in a thread of its own, so that whoever waits can look and call it off."""
    ended: list[cp_model.CpSolverStatus] = []
    searching = threading.Thread(target=lambda: ended.append(solver.solve(cp)), daemon=True)
    searching.start()
    looks = 0
    try:
        while searching.is_alive():
            progress(min(looks * _LOOK_S / work_s, 0.99))
            searching.join(_LOOK_S)
            looks += 1
    except BaseException as reason:
        while searching.is_alive():  # a search that has not begun yet does not hear the first call
            solver.stop_search()
            searching.join(_LOOK_S)
        if not isinstance(reason, EnoughError):
            raise
    return ended[0]
