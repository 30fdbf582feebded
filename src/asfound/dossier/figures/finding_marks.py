"""How a finding is marked on a drawing: a numbered disc, strokes for its severity, its outline.

Nothing is told by colour: the number leads to the list beside the drawing, as many strokes as the
severity stand under the disc, and a grave one is inverted besides.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Point, Polygon

from asfound.craft.conditions import MOST_SEVERE
from asfound.dossier.figures.frame import Frame, rings
from asfound.dossier.figures.palette import TINT_INK, TINT_PAPER, Palette
from asfound.dossier.figures.svg import Node, Points, node, number, path
from asfound.dossier.figures.words import Style, text
from asfound.record.convert.findings import Finding

PANEL_RADIUS = 11.0
"""Of a disc on a panel alone [drawing units]."""
_TURNS = 12
_RINGS = 6
_DOTS = "1.5 4"
_FITS = 0.5
"""Share of the disc's radius that one figure of its number takes across, with halo [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A finding with its number in the list beside the drawing."""

    number: int
    finding: Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A mark on a drawing: where it is meant, and where its disc found room."""

    number: int
    grade: int
    says: str
    at: tuple[float, float]
    stands: tuple[float, float]
    radius: float

    @property
    def ground(self) -> Polygon:
        """What the disc with its strokes takes up."""
        x, y = self.stands
        return Point(x, y + 0.3 * self.radius).buffer(1.5 * self.radius)


def numbered(findings: Sequence[Finding], *, first: int = 1) -> list[Numbered]:
    """Findings with the numbers of their list."""
    return [Numbered(number=n, finding=one) for n, one in enumerate(findings, start=first)]


def discs_in(frame: Frame, findings: Sequence[Numbered], *, radius: float) -> list[Disc]:
    """Discs of findings that have a place, none upon another.

    Parameters
    ----------
    frame : Frame
        Of the panel that they are on.
    findings : sequence of Numbered
    radius : float
        Of a disc [drawing units].
    """
    return settled(places_in(frame, findings), radius=radius)


def places_in(
    frame: Frame, findings: Sequence[Numbered]
) -> list[tuple[Numbered, tuple[float, float]]]:
    """Findings that have a place on a panel, each with it in drawing units."""
    placed = ((one, _place(one.finding)) for one in findings)
    return [(one, frame.point(*place)) for one, place in placed if place is not None]


def settled(places: Sequence[tuple[Numbered, tuple[float, float]]], *, radius: float) -> list[Disc]:
    """Discs at their places, moved aside where another stands there already."""
    tries = _tries(radius)
    taken = np.empty((len(places), 2))
    found: list[Disc] = []
    for n, (one, at) in enumerate(places):
        taken[n] = _free(tries + at, taken[:n], radius)
        x, y = taken[n].tolist()
        found.append(
            Disc(
                number=one.number,
                grade=one.finding.step.grade,
                says=f"{one.number}: {one.finding.told}",
                at=at,
                stands=(x, y),
                radius=radius,
            )
        )
    return found


def _tries(radius: float) -> Points:
    """Steps away from a place that are tried one after the other, the place itself first."""
    rings = np.repeat(np.arange(1, _RINGS + 1), _TURNS) * 1.4 * radius
    angles = np.tile(np.arange(_TURNS), _RINGS) * 2 * math.pi / _TURNS
    around = np.column_stack([rings * np.cos(angles), rings * np.sin(angles)])
    return np.vstack([np.zeros((1, 2)), around])


def _free(tries: Points, taken: Points, radius: float) -> Points:
    """First of the tries that no disc stands near; the first of all where every one is taken."""
    apart = np.linalg.norm(tries[:, None] - taken[None], axis=2) > 2.7 * radius
    free = apart.all(axis=1)
    return np.asarray(tries[int(free.argmax())] if free.any() else tries[0])


def _place(finding: Finding) -> tuple[float, float] | None:
    """Place that was tapped, or the middle of what was outlined."""
    if finding.place_mm is not None:
        return finding.place_mm
    if finding.outline is None:
        return None
    middle = finding.outline.representative_point()
    return (middle.x, middle.y)


def outline_nodes(frame: Frame, findings: Sequence[Numbered]) -> Iterator[Node]:
    """Outlines that people drew, as dotted lines on a breath of paper."""
    for one in findings:
        if one.finding.outline is None:
            continue
        d = path(rings(frame.polygon(one.finding.outline)), closed=True)
        line = {"d": d, "fill": "none", "stroke_linejoin": "round", "stroke_linecap": "round"}
        yield node("path", **line, stroke=TINT_PAPER, stroke_width="4.5", stroke_opacity="0.85")
        yield node("path", **line, stroke=TINT_INK, stroke_width="2.2", stroke_dasharray=_DOTS)


def disc_nodes(discs: Sequence[Disc], palette: Palette) -> Iterator[Node]:
    """Discs with their numbers and strokes, leaders below them all."""
    for disc in discs:
        yield from _leader(disc)
    for disc in discs:
        group = node("g", node("title", disc.says), class_="finding-mark")
        yield group.add(*_strokes(disc), *_disc(disc, palette))


def _leader(disc: Disc) -> Iterator[Node]:
    if disc.stands == disc.at:
        return
    (x0, y0), (x1, y1) = disc.stands, disc.at
    d = f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}"
    yield node("path", d=d, stroke=TINT_PAPER, stroke_width="3", fill="none")
    yield node("path", d=d, stroke=TINT_INK, stroke_width="1", fill="none")
    yield node("circle", cx=x1, cy=y1, r=0.25 * disc.radius, fill=TINT_INK)


def _strokes(disc: Disc) -> Iterator[Node]:
    """As many strokes as the severity, on a strip of paper under the disc."""
    if not disc.grade:
        return
    x, y = disc.stands
    step, long = 0.42 * disc.radius, 0.62 * disc.radius
    top, wide = y + 1.12 * disc.radius, step * (disc.grade - 1)
    left = x - wide / 2
    d = "".join(
        f"M{number(left + step * n)} {number(top)}v{number(long)}" for n in range(disc.grade)
    )
    yield node(
        "rect",
        x=left - 0.35 * disc.radius,
        y=top - 0.15 * disc.radius,
        width=wide + 0.7 * disc.radius,
        height=long + 0.3 * disc.radius,
        rx=0.2 * disc.radius,
        fill=TINT_PAPER,
    )
    yield node("path", d=d, stroke=TINT_INK, stroke_width=0.2 * disc.radius, stroke_linecap="butt")


def _disc(disc: Disc, palette: Palette) -> Iterator[Node]:
    x, y = disc.stands
    is_grave = disc.grade >= MOST_SEVERE
    fill, ink = (TINT_INK, TINT_PAPER) if is_grave else (TINT_PAPER, TINT_INK)
    words = str(disc.number)
    yield node("circle", cx=x, cy=y, r=disc.radius + 0.1 * disc.radius, fill=TINT_PAPER)
    yield node(
        "circle",
        cx=x,
        cy=y,
        r=disc.radius,
        fill=fill,
        stroke=TINT_INK,
        stroke_width=0.12 * disc.radius,
    )
    size = disc.radius * min(1.25, 1.9 / (len(words) * _FITS + _FITS))
    style = Style(size=size, colour=ink, weight="600")
    drawn = text(words, x, y, style, palette, anchor="middle")
    drawn.attributes["class"] = "finding-number"
    yield drawn


def key_nodes(
    palette: Palette, *, x: float, y: float, size: float, outlined: bool
) -> Iterator[Node]:
    """What the marks mean."""
    radius = size * 0.74
    sample = Disc(number=1, grade=3, says="", at=(x, y), stands=(x, y), radius=radius)
    grave = Disc(number=2, grade=4, says="", at=(x, y), stands=(x, y + 2.35 * size), radius=radius)
    style = Style(size=size, colour=palette.ink)
    for disc in (sample, grave):
        yield from (*_strokes(disc), *_disc(disc, palette))
    left = x + 1.8 * size
    yield text("number in the list; strokes: severity 0 to 4", left, y, style, palette)
    yield text("grave, severity 4", left, y + 2.35 * size, style, palette)
    if outlined:
        at = left + 15 * size
        d = path(
            [np.array([[at, y + 2.35 * size], [at + 2.4 * size, y + 2.35 * size]])], closed=False
        )
        yield node("path", d=d, stroke=TINT_PAPER, stroke_width="4.5")
        yield node(
            "path",
            d=d,
            stroke=TINT_INK,
            stroke_width="2.2",
            stroke_dasharray=_DOTS,
            stroke_linecap="round",
        )
        yield text("its outline", at + 3.1 * size, y + 2.35 * size, style, palette)
