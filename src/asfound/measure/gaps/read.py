"""The gaps of one car: every edge against its limits, every pair of twins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.gaps.edge import EdgeFit, EdgeReading, read_edge
from asfound.measure.gaps.symmetry import MirrorPair, mirror

ASSUMED_U_MM = 0.2
"""Standard uncertainty of one reading by taper gauge or feelers and hand, where none is stated:
an assumption, no source."""

Stand = Literal["within", "too narrow", "too wide", "cannot be told"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeGround:
    """What is known of an edge beforehand: its twin and the limits of its gap."""

    edge: str
    twin: str = ""
    least_mm: float | None = None
    most_mm: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GapSurvey:
    """Edges of one car with their readings.

    Parameters
    ----------
    edges : tuple of EdgeGround
        Those of readings too; each name once.
    readings : tuple of EdgeReading
    instrument_u_mm : mapping of str to float, by edge
        Standard uncertainty of one reading; an edge that is not in it gets ``ASSUMED_U_MM``.
    """

    edges: tuple[EdgeGround, ...]
    readings: tuple[EdgeReading, ...]
    instrument_u_mm: dict[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """The gap at one place of an edge, held against the limits."""

    place: Literal["start", "middle", "end"]
    gap_mm: Estimate
    stand: Stand


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeResult:
    """One edge: its readings, its line, how it stands against its limits.

    ``fit`` is ``None`` where ``refusal`` says what is missing; ``against`` is empty without
    limits.
    """

    ground: EdgeGround
    readings: tuple[EdgeReading, ...]
    instrument_u_mm: float
    u_is_assumed: bool
    fit: EdgeFit | None
    against: tuple[Against, ...]
    refusal: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TwinResult:
    """Two twins, left first, and how they mirror; ``refusal`` says what is missing for it."""

    left: str
    right: str
    pair: MirrorPair | None
    refusal: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GapResult:
    """What the gaps of a car say."""

    edges: tuple[EdgeResult, ...]
    twins: tuple[TwinResult, ...]


def read_gaps(survey: GapSurvey) -> GapResult:
    """Every edge with its run-out, against its limits, and every pair of twins.

    Raises
    ------
    NotEnoughEvidenceError
        If no edge is named at all.

    Notes
    -----
    An edge stands within its limits where the 95 % interval of its line does; where the interval
    crosses a limit it cannot be told.
    """
    if not survey.edges:
        raise NotEnoughEvidenceError("No edge is named and no gap was read.")
    edges = tuple(_edge(ground, survey) for ground in survey.edges)
    return GapResult(edges=edges, twins=_twins(edges))


def stand(gap_mm: Estimate, *, least_mm: float | None, most_mm: float | None) -> Stand:
    """How a gap stands against its limits, by its 95 % interval.

    Examples
    --------
    >>> stand(Estimate(value=5.0, u=0.1), least_mm=3.0, most_mm=4.5)
    'too wide'
    """
    reach = gap_mm.expanded(coverage=0.95)
    low, high = gap_mm.value - reach, gap_mm.value + reach
    if least_mm is not None and high < least_mm:
        return "too narrow"
    if most_mm is not None and low > most_mm:
        return "too wide"
    is_clear = (least_mm is None or low >= least_mm) and (most_mm is None or high <= most_mm)
    return "within" if is_clear else "cannot be told"


def _edge(ground: EdgeGround, survey: GapSurvey) -> EdgeResult:
    readings = sorted(
        (r for r in survey.readings if r.edge == ground.edge),
        key=lambda r: (r.along_mm, r.gap_mm),
    )
    u_mm = survey.instrument_u_mm.get(ground.edge, ASSUMED_U_MM)
    try:
        fit, refusal = read_edge(readings, instrument_u_mm=u_mm), ""
    except NotEnoughEvidenceError as error:
        fit, refusal = None, str(error)
    return EdgeResult(
        ground=ground,
        readings=tuple(readings),
        instrument_u_mm=u_mm,
        u_is_assumed=ground.edge not in survey.instrument_u_mm,
        fit=fit,
        against=_against(ground, fit) if fit else (),
        refusal=refusal,
    )


def _against(ground: EdgeGround, fit: EdgeFit) -> tuple[Against, ...]:
    least, most = ground.least_mm, ground.most_mm
    if least is None and most is None:
        return ()
    shares: tuple[tuple[Literal["start", "middle", "end"], float], ...] = (
        ("start", 0.0),
        ("middle", 0.5),
        ("end", 1.0),
    )
    return tuple(
        Against(
            place=place,
            gap_mm=fit.gap.at(share),
            stand=stand(fit.gap.at(share), least_mm=least, most_mm=most),
        )
        for place, share in shares
    )


def _twins(edges: tuple[EdgeResult, ...]) -> tuple[TwinResult, ...]:
    """Each pair once, whichever of the two names the other."""
    by_name = {edge.ground.edge: edge for edge in edges}
    pairs: dict[frozenset[str], tuple[str, str]] = {}
    for name, edge in by_name.items():
        twin = edge.ground.twin
        if twin in by_name and twin != name:
            swap = _side(name) == "right" or _side(twin) == "left"
            pairs.setdefault(frozenset((name, twin)), (twin, name) if swap else (name, twin))
    return tuple(_twin(by_name[left], by_name[right]) for left, right in pairs.values())


def _side(name: str) -> str:
    words = name.lower().replace(",", " ").split()
    return next((side for side in ("left", "right") if side in words), "")


def _twin(left: EdgeResult, right: EdgeResult) -> TwinResult:
    names = {"left": left.ground.edge, "right": right.ground.edge}
    if left.fit is None or right.fit is None:
        short = " and ".join(e.ground.edge for e in (left, right) if e.fit is None)
        refusal = f"The sides cannot be compared: {short} needs readings at two places or more."
        return TwinResult(**names, pair=None, refusal=refusal)
    return TwinResult(**names, pair=mirror(left=left.fit, right=right.fit))
