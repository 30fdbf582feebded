"""What polishing says, as lines for the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from asfound.measure.polish import AreaBudget, PolishResult, ProcessBudget, SpotBudget
from asfound.record.results.polish import area_name, passes_words, process_name


def told(cells: Mapping[str, str]) -> str:
    """What one reading says."""
    passes = "1 pass" if cells["passes"] == "1" else f"{cells['passes']} passes"
    return f"spot {cells['spot']}, {cells['before_um']} to {cells['after_um']} µm in {passes}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalLine:
    """What a pass took."""

    where: str
    process: str
    value_um: float
    u95_um: float
    spots_n: int
    told_apart: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotLine:
    """A spot: film now, over the floor, and passes by process."""

    budget: SpotBudget
    u95_um: float
    over_u95_um: float | None
    passes: tuple[int | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessLine:
    """How many passes of one process may follow on an area."""

    process: str
    words: str
    stay: float | None
    measured_here: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaLines:
    """An area with its floor, its spots and its processes."""

    name: str
    area: AreaBudget
    processes: tuple[ProcessLine, ...]
    spots: tuple[SpotLine, ...]


def removal_lines(result: PolishResult) -> list[RemovalLine]:
    """What a pass took by area and process, then over the car where there are several areas."""
    found = [*result.removals]
    if len(result.removals) > len(result.pooled):
        found += result.pooled
    return [
        RemovalLine(
            where=area_name(r.panel, r.area) if r.panel else "the whole car",
            process=process_name(r.process),
            value_um=r.removal.per_pass_um.value,
            u95_um=r.removal.per_pass_um.expanded(coverage=0.95),
            spots_n=r.removal.spots_n,
            told_apart=r.removal.told_apart,
        )
        for r in found
    ]


def area_lines(result: PolishResult, *, panel: str) -> list[AreaLines]:
    """Areas of a panel."""
    return [
        AreaLines(
            name=area_name(area.panel, area.area),
            area=area,
            processes=tuple(_process(p) for p in area.processes),
            spots=tuple(_spot(s, area) for s in area.spots),
        )
        for area in result.areas
        if area.panel == panel
    ]


def _process(budget: ProcessBudget) -> ProcessLine:
    return ProcessLine(
        process=process_name(budget.process),
        words=passes_words(budget),
        stay=budget.worst.stay_probability if budget.worst else None,
        measured_here=budget.measured_here,
    )


def _spot(spot: SpotBudget, area: AreaBudget) -> SpotLine:
    over = spot.over_floor_um
    return SpotLine(
        budget=spot,
        u95_um=spot.present.film_um.expanded(coverage=0.95),
        over_u95_um=over.expanded(coverage=0.95) if over else None,
        passes=tuple(p.by_spot.get(spot.present.spot) for p in area.processes),
    )
