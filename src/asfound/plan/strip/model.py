"""The way of least risk as a constraint model for CP-SAT."""

from __future__ import annotations

from ortools.sat.python import cp_model

from asfound.plan.search import Effort, run
from asfound.plan.strip.piece import STEPS, Assembly


def least_risk(
    assembly: Assembly,
    piece: str,
    *,
    off: frozenset[str],
    free: frozenset[str],
    work_s: float,
) -> tuple[set[str], float] | None:
    """Pieces that come off, the one asked for with them, and the least risk of any way.

    ``free`` are those that can come off at all. None where nothing was found in the time.
    """
    model, taken = _model(assembly, piece, off, free)
    solver, status = run(model, Effort(work_s=work_s, seed=0, wide=False, linear=True))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    needed = {name for name, literal in taken.items() if solver.value(literal)}
    fewest = len(assembly.pieces) + 1
    least = max(0, round(solver.best_objective_bound)) // fewest
    return needed, least / STEPS


def _model(
    assembly: Assembly, piece: str, off: frozenset[str], free: frozenset[str]
) -> tuple[cp_model.CpModel, dict[str, cp_model.IntVar]]:
    cp = cp_model.CpModel()
    names = [name for name in assembly.behind(piece) if name in free]
    taken = {name: cp.new_bool_var(f"{name} off") for name in names}
    place = {name: cp.new_int_var(0, len(names), f"place of {name}") for name in names}
    cp.add(taken[piece] == 1)

    def before(literal: cp_model.IntVar, name: str, first: str) -> None:
        """If the literal holds, ``first`` is off before ``name``."""
        if first in off:
            return
        if first not in taken:
            cp.add(literal == 0)
            return
        cp.add_implication(literal, taken[first])
        cp.add(place[first] + 1 <= place[name]).only_enforce_if(literal)

    for name in names:
        for first in assembly.always[name]:
            before(taken[name], name, first)
        chosen = []
        for asked in assembly.ways[name].values():
            way = cp.new_bool_var("")
            chosen.append(way)
            for first in asked:
                before(way, name, first)
        if chosen:
            cp.add_bool_or(*chosen).only_enforce_if(taken[name])
    fewest = len(assembly.pieces) + 1
    cp.minimize(
        sum(
            (assembly.named[name].risk_steps * fewest + 1) * literal
            for name, literal in taken.items()
            if name != piece
        )
    )
    return cp, taken
