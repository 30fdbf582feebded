"""One run of the solver: the same input gives the same answer, and a person can stop it."""

from __future__ import annotations

import threading
from dataclasses import dataclass

from ortools.sat.python import cp_model

from asfound.plan.plan import Progress

_LOOK_S = 0.2
_SUBSOLVERS = 6


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
        Several ways of searching by turns, which betters large plans; else one, which proves
        small ones.
    """

    work_s: float
    seed: int
    wide: bool


def scaled(cp: cp_model.CpModel, effort: Effort) -> float:
    """The solver's own clock for an effort: a step of it takes longer in a large model.

    Measured with 2 to 100 thousand variables, and with several ways of searching by turns.
    """
    slower = (1 + len(cp.proto.variables) / 1500) * (6 if effort.wide else 1)
    return effort.work_s / slower


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
        what it raises stops the search and is raised here.
    """
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = scaled(cp, effort)
    solver.parameters.random_seed = effort.seed
    solver.parameters.num_workers = _SUBSOLVERS if effort.wide else 1
    solver.parameters.interleave_search = effort.wide
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
    except BaseException:
        solver.stop_search()
        searching.join()
        raise
    return ended[0]
