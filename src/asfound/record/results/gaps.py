"""The gaps of a car in the shape of the contract, and in words."""

from __future__ import annotations

from typing import Any

from asfound.measure.gaps import (
    Against,
    EdgeResult,
    GapResult,
    MirrorPair,
    Run,
    Shift,
    TwinResult,
)
from asfound.record.results.estimate import estimate, number


def gaps_json(result: GapResult) -> dict[str, Any]:
    """Result as ``asfound gaps --json`` prints it."""
    return {
        "edges": [_edge(e) for e in result.edges],
        "twins": [_twins(t) for t in result.twins],
    }


def edge_words(edge: EdgeResult) -> str:
    """What an edge says: how it runs, and how it stands against its limits."""
    if edge.fit is None:
        return edge.refusal
    run = edge.fit.gap
    out, reach = run.run_out_mm, run.run_out_mm.expanded(coverage=0.95)
    signed = f"{out.value:+.2f}".replace("-", "\N{MINUS SIGN}")
    figures = f"{signed} ± {reach:.2f} mm over {edge.fit.span_mm:.0f} mm"
    said = f"runs out by {figures}" if run.tapers else f"no run-out told ({figures})"
    stand = stand_words(edge)
    return f"{said}; {stand}" if stand else said


def stand_words(edge: EdgeResult) -> str:
    """How the gap stands against its limits; empty where there are none."""
    if not edge.against:
        return ""
    limits = _limits(edge)
    off = [f"{a.stand} at its {a.place}" for a in edge.against if a.stand.startswith("too")]
    if off:
        return f"against {limits}: {', '.join(off)}"
    if all(a.stand == "within" for a in edge.against):
        return f"within {limits}"
    open_places = " and ".join(a.place for a in edge.against if a.stand == "cannot be told")
    return f"against {limits}: cannot be told at its {open_places}"


def twin_shifts(pair: MirrorPair) -> tuple[Shift, ...]:
    """Differences of a pair that could be told, gap before flush."""
    shifts = (pair.gap_middle, pair.gap_run_out, pair.flush_middle, pair.flush_run_out)
    return tuple(shift for shift in shifts if shift is not None)


def _limits(edge: EdgeResult) -> str:
    least, most = edge.ground.least_mm, edge.ground.most_mm
    if least is None:
        return f"at most {most:g} mm"
    return f"at least {least:g} mm" if most is None else f"{least:g} to {most:g} mm"


def _edge(edge: EdgeResult) -> dict[str, Any]:
    ground, fit = edge.ground, edge.fit
    return {
        "edge": ground.edge,
        "twin": ground.twin,
        "least_mm": ground.least_mm,
        "most_mm": ground.most_mm,
        "readings_n": len(edge.readings),
        "instrument_u_mm": number(edge.instrument_u_mm),
        "u_is_assumed": edge.u_is_assumed,
        "span_mm": number(fit.span_mm) if fit else None,
        "gap": _run(fit.gap) if fit else None,
        "flush": _run(fit.flush) if fit and fit.flush else None,
        "against": [_against(a) for a in edge.against],
        "reading": edge_words(edge),
    }


def _run(run: Run) -> dict[str, Any]:
    return {
        "middle_mm": estimate(run.middle_mm),
        "run_out_mm": estimate(run.run_out_mm),
        "tapers": run.tapers,
        "readings_n": run.readings_n,
    }


def _against(place: Against) -> dict[str, Any]:
    return {"place": place.place, "gap_mm": estimate(place.gap_mm), "stand": place.stand}


def _twins(twins: TwinResult) -> dict[str, Any]:
    pair = twins.pair
    return {
        "left": twins.left,
        "right": twins.right,
        "gap_middle": _shift(pair.gap_middle) if pair else None,
        "gap_run_out": _shift(pair.gap_run_out) if pair else None,
        "flush_middle": _shift(pair.flush_middle) if pair else None,
        "flush_run_out": _shift(pair.flush_run_out) if pair else None,
        "refusal": twins.refusal,
    }


def _shift(shift: Shift | None) -> dict[str, Any] | None:
    if shift is None:
        return None
    return {
        "difference_mm": estimate(shift.difference_mm),
        "p": float(f"{shift.p:.6g}"),
        "words": shift.words,
    }
