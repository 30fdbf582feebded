"""Gaps and fit: every edge against its limits, and left against right."""

from __future__ import annotations

from typing import Any

from asfound.dossier.account.survey import when_and_by
from asfound.dossier.figures import edge_svg
from asfound.dossier.numbers import MISSING, with_doubt
from asfound.measure.gaps import EdgeResult, GapResult, Run
from asfound.record.folder import CarFolder
from asfound.record.results.gaps import edge_words, twin_shifts

_COVERAGE = 0.95


def about_gaps(car: CarFolder, result: GapResult) -> dict[str, Any]:
    """Edges, pictures with what they say of left and right, and assumed doubts."""
    return {
        "readings_n": len(car.sheet("gaps")),
        "taken": when_and_by(list(car.sheet("gaps"))),
        "edges": [_edge(e) for e in result.edges],
        "limits": [
            [e.ground.edge, e.ground.source] for e in result.edges if e.against and e.ground.source
        ],
        "assumed": [e.ground.edge for e in result.edges if e.readings and e.u_is_assumed],
        "pictures": [{"title": title, "said": said} for _, title, said in _pictured(result)],
    }


def edge_figures(result: GapResult) -> dict[str, str]:
    """Picture of every pair and of every other edge that was read, by the name of its file."""
    return {
        f"edge-{number}.svg": edge_svg(result, edge, theme="print")
        for number, (edge, _, _) in enumerate(_pictured(result))
    }


def _pictured(result: GapResult) -> list[tuple[str, str, list[str]]]:
    """An edge, the title of its picture, and what its twin makes of it."""
    read = {e.ground.edge for e in result.edges if e.readings}
    pairs = [t for t in result.twins if {t.left, t.right} & read]
    paired = {name for t in pairs for name in (t.left, t.right)}
    found = [
        (
            t.left,
            f"{t.left} and {t.right}",
            [shift.words for shift in twin_shifts(t.pair)] if t.pair else [t.refusal],
        )
        for t in pairs
    ]
    return found + [
        (e.ground.edge, e.ground.edge, [])
        for e in result.edges
        if e.readings and e.ground.edge not in paired
    ]


def _edge(edge: EdgeResult) -> list[str]:
    fit = edge.fit
    return [
        edge.ground.edge,
        str(len(edge.readings)),
        _middle(fit.gap if fit else None),
        _middle(fit.flush if fit else None),
        edge_words(edge) if edge.readings else "not read",
    ]


def _middle(run: Run | None) -> str:
    if run is None:
        return MISSING
    return with_doubt(run.middle_mm.value, run.middle_mm.expanded(coverage=_COVERAGE), 2)
