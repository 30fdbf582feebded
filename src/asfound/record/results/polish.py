"""The polishing of a car in the shape of the contract, and in words."""

from __future__ import annotations

from typing import Any

from asfound.measure.polish import AreaBudget, AreaRemoval, PolishResult, ProcessBudget, SpotBudget
from asfound.record.results.estimate import estimate, number

_NOT_NAMED = "process not named"


def polish_json(result: PolishResult) -> dict[str, Any]:
    """Result as ``asfound polish --json`` prints it."""
    return {
        "asked_probability": result.asked_probability,
        "removals": [_removal(r) for r in result.removals],
        "pooled": [_removal(r) for r in result.pooled],
        "areas": [_area(a) for a in result.areas],
    }


def area_name(panel: str, area: str) -> str:
    """Name of an area for people."""
    return f"{panel}, {area}" if area else panel


def process_name(process: str) -> str:
    """Name of a process for people."""
    return process or _NOT_NAMED


def passes_words(budget: ProcessBudget) -> str:
    """How many passes may follow and which spot holds them, or why that is not known."""
    worst = budget.worst
    if worst is None:
        return f"not known. {budget.refusal}"
    if worst.passes_n == 0:
        return f"no pass: at spot {worst.thinnest_spot} the first would be too much"
    passes = "one more pass" if worst.passes_n == 1 else f"{worst.passes_n} more passes"
    return f"{passes}, held by spot {worst.thinnest_spot}"


def _removal(found: AreaRemoval) -> dict[str, Any]:
    place = {"panel": found.panel, "area": found.area} if found.panel else {}
    return {
        **place,
        "process": found.process,
        "per_pass_um": estimate(found.removal.per_pass_um),
        "scatter_um": number(found.removal.scatter_um),
        "spots_n": found.removal.spots_n,
        "told_apart": found.removal.told_apart,
    }


def _area(area: AreaBudget) -> dict[str, Any]:
    floor = area.floor
    return {
        "panel": area.panel,
        "area": area.area,
        "floor": {
            "floor_um": number(floor.floor.film_um),
            "basis": floor.floor.basis,
            "source": floor.source,
        }
        if floor
        else None,
        "spots": [_spot(s) for s in area.spots],
        "processes": [_process(p) for p in area.processes],
        "cautions": list(area.cautions),
    }


def _spot(spot: SpotBudget) -> dict[str, Any]:
    now = spot.present
    return {
        "spot": now.spot,
        "x_mm": _number_or_none(now.x_mm),
        "y_mm": _number_or_none(now.y_mm),
        "film_um": estimate(now.film_um),
        "basis": now.basis,
        "over_floor_um": estimate(spot.over_floor_um) if spot.over_floor_um else None,
        "p_above_floor": _number_or_none(spot.above_probability),
    }


def _process(budget: ProcessBudget) -> dict[str, Any]:
    worst = budget.worst
    return {
        "process": budget.process,
        "measured_here": budget.measured_here,
        "passes": worst.passes_n if worst else None,
        "held_by_spot": worst.thinnest_spot if worst else None,
        "p_stays": number(worst.stay_probability) if worst else None,
        "passes_by_spot": dict(budget.by_spot),
        "words": passes_words(budget),
        "refusal": budget.refusal,
    }


def _number_or_none(value: float | None) -> float | None:
    return None if value is None else number(value)
