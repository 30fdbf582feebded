"""What the gaps say, as lines for the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from asfound.measure.gaps import EdgeResult, GapResult, Run, TwinResult
from asfound.record.results.gaps import edge_words, twin_shifts


def told(cells: Mapping[str, str]) -> str:
    """What one reading says."""
    flush = f", flush {cells['flush_mm']} mm" if cells.get("flush_mm") else ""
    return f"gap {cells['gap_mm']} mm{flush} at {cells['along_mm']} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A value with the half-width of its 95 % interval [mm]."""

    value_mm: float
    u95_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLine:
    """One edge in the list: its words and its numbers."""

    edge: str
    words: str
    is_read: bool
    readings_n: int
    gap: Figure | None
    flush: Figure | None
    flush_run_out: Figure | None
    off_limits: bool
    u_mm: float
    u_is_assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TwinLine:
    """A pair of twins and what differs between them."""

    left: str
    right: str
    said: tuple[str, ...]
    differs: bool


def edge_line(edge: EdgeResult) -> EdgeLine:
    """Line of an edge."""
    fit = edge.fit
    flush = fit.flush if fit else None
    return EdgeLine(
        edge=edge.ground.edge,
        words=edge_words(edge) if edge.readings else "not read yet",
        is_read=fit is not None,
        readings_n=len(edge.readings),
        gap=_middle(fit.gap) if fit else None,
        flush=_middle(flush) if flush else None,
        flush_run_out=_run_out(flush) if flush else None,
        off_limits=any(a.stand.startswith("too") for a in edge.against),
        u_mm=edge.instrument_u_mm,
        u_is_assumed=bool(edge.readings) and edge.u_is_assumed,
    )


def edge_lines(result: GapResult) -> list[EdgeLine]:
    """Lines of all edges: first those that are outside their limits."""
    lines = [edge_line(edge) for edge in result.edges]
    return sorted(lines, key=lambda line: (not line.off_limits, not line.readings_n))


def twin_line(twins: TwinResult) -> TwinLine:
    """Line of a pair."""
    shifts = twin_shifts(twins.pair) if twins.pair else ()
    return TwinLine(
        left=twins.left,
        right=twins.right,
        said=tuple(f"{s.words[0].upper()}{s.words[1:]}" for s in shifts) or (twins.refusal,),
        differs=any(shift.p < 0.05 for shift in shifts),
    )


def _middle(run: Run) -> Figure:
    return Figure(value_mm=run.middle_mm.value, u95_mm=run.middle_mm.expanded(coverage=0.95))


def _run_out(run: Run) -> Figure:
    return Figure(value_mm=run.run_out_mm.value, u95_mm=run.run_out_mm.expanded(coverage=0.95))
