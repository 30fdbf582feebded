"""A car's colour: its readings by light and observer, each group read by itself."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from asfound.base import NotEnoughEvidenceError
from asfound.measure.colour.fade import Fade, fade
from asfound.measure.colour.off_colour import ColourSign, off_colour
from asfound.measure.colour.paints import paints_apart
from asfound.measure.colour.readings import ColourMean, ColourReading, Viewing, mean_colour
from asfound.measure.colour.seams import Seam, exposed_means, seams

OTHER_PAINT_E00 = 5.0
"""Panels further apart are taken for different paints: ΔE00 is meant for differences up to this
(ASTM D2244, section 5.2, as quoted in a public text; a secondary source)."""

_LEAST_PANELS = 3

Said = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourSurvey:
    """The colour readings of one car and what they are held against.

    Parameters
    ----------
    readings : tuple of ColourReading
        Of panels and parts, under any lights.
    panels : frozenset of str
        Subjects that are panels of the body: they alone have seams and a colour in common.
    neighbours : tuple of (str, str)
        Pairs of panels that meet.
    instrument_u : float
        Standard uncertainty of one reading in each coordinate, CIELAB units, more than zero.
    """

    readings: tuple[ColourReading, ...]
    panels: frozenset[str]
    neighbours: tuple[tuple[str, str], ...]
    instrument_u: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceColour:
    """Mean colour of one subject, exposed or hidden."""

    subject: str
    exposure: Literal["exposed", "hidden"]
    mean: ColourMean


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelSign:
    """A panel off the car's colour, and whether its own fade is as large as its distance."""

    sign: ColourSign
    sun_may_explain: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewedColour:
    """What the readings under one light and observer tell.

    ``seams`` and ``signs`` are worst first; ``unsaid`` has a sentence for what they cannot tell.
    """

    viewing: Viewing
    readings_n: int
    places: tuple[PlaceColour, ...]
    fades: tuple[Fade, ...]
    seams: tuple[Seam, ...]
    signs: tuple[PanelSign, ...]
    unsaid: Said


@dataclass(frozen=True, slots=True, kw_only=True)
class CarColour:
    """The groups of a car's readings: stated lights first, then the larger group first."""

    groups: tuple[ViewedColour, ...]

    def sign_of(self, panel: str) -> PanelSign | None:
        """Sign of a panel in the first group that has one; groups are never multiplied."""
        found = (s for group in self.groups for s in group.signs if s.sign.subject == panel)
        return next(found, None)


def read_colour(survey: ColourSurvey) -> CarColour:
    """What the colour of a car tells, apart for each light and observer.

    Raises
    ------
    NotEnoughEvidenceError
        Without readings. What a group is too small for is a sentence of it, not an error.
    InputError
        If ``instrument_u`` is not positive.

    Notes
    -----
    Panels are parted into paints where a gap of more than ``OTHER_PAINT_E00`` lies between
    them: by the colours alone a second paint of the works cannot be told from a later one, so a
    paint on fewer than three panels is named and not weighed.
    """
    if not survey.readings:
        raise NotEnoughEvidenceError("No colour reading; take some on each panel.")
    by_viewing: defaultdict[Viewing, list[ColourReading]] = defaultdict(list)
    for reading in survey.readings:
        by_viewing[reading.viewing].append(reading)
    order = sorted(
        by_viewing.items(),
        key=lambda item: (
            not item[0].is_stated,
            -len(item[1]),
            item[0].illuminant,
            item[0].observer,
        ),
    )
    return CarColour(groups=tuple(_viewed(v, group, survey) for v, group in order))


def _viewed(viewing: Viewing, group: list[ColourReading], survey: ColourSurvey) -> ViewedColour:
    fades, no_fade = _fades(group, survey.instrument_u)
    found, no_seam = _seams(group, survey)
    signs, no_sign = _signs(group, survey)
    return ViewedColour(
        viewing=viewing,
        readings_n=len(group),
        places=_places(group, survey.instrument_u),
        fades=fades,
        seams=found,
        signs=tuple(PanelSign(sign=s, sun_may_explain=_sun_may_explain(s, fades)) for s in signs),
        unsaid=(*no_fade, *no_seam, *no_sign),
    )


def _places(group: Sequence[ColourReading], instrument_u: float) -> tuple[PlaceColour, ...]:
    met: defaultdict[tuple[str, Literal["exposed", "hidden"]], list[ColourReading]]
    met = defaultdict(list)
    for reading in group:
        met[reading.subject, reading.exposure].append(reading)
    return tuple(
        PlaceColour(
            subject=subject, exposure=exposure, mean=mean_colour(found, instrument_u=instrument_u)
        )
        for (subject, exposure), found in met.items()
    )


def _fades(group: Sequence[ColourReading], instrument_u: float) -> tuple[tuple[Fade, ...], Said]:
    met: defaultdict[str, list[ColourReading]] = defaultdict(list)
    for reading in group:
        met[reading.subject].append(reading)
    found = [
        fade(readings, instrument_u=instrument_u)
        for readings in met.values()
        if {r.exposure for r in readings} == {"exposed", "hidden"}
    ]
    if not found:
        return (), ("Nothing was read both exposed and hidden: no fade can be told.",)
    return tuple(sorted(found, key=lambda f: (-f.change.delta_e00.value, f.subject))), ()


def _seams(group: list[ColourReading], survey: ColourSurvey) -> tuple[tuple[Seam, ...], Said]:
    on_panels = [r for r in group if r.subject in survey.panels]
    try:
        found = seams(on_panels, neighbours=survey.neighbours, instrument_u=survey.instrument_u)
    except NotEnoughEvidenceError:
        return (), ("No two neighbouring panels were both read exposed: no seam can be compared.",)
    return found, ()


def _signs(group: list[ColourReading], survey: ColourSurvey) -> tuple[list[ColourSign], Said]:
    exposed = [r for r in group if r.subject in survey.panels and r.exposure == "exposed"]
    means = exposed_means(exposed, instrument_u=survey.instrument_u) if exposed else {}
    if len(means) < _LEAST_PANELS:
        return [], (_too_few(len(means)),)
    signs: list[ColourSign] = []
    unsaid = []
    for paint in paints_apart(means, apart_e00=OTHER_PAINT_E00):
        if len(paint) < _LEAST_PANELS:
            unsaid.append(_other_paint(paint))
            continue
        of_paint = [r for r in exposed if r.subject in paint]
        signs += off_colour(of_paint, instrument_u=survey.instrument_u)
    return sorted(signs, key=lambda s: (-s.away_e00.value, s.subject)), tuple(unsaid)


def _too_few(count: int) -> str:
    told = {0: "No panel was", 1: "One panel alone was", 2: "Two panels alone were"}[count]
    return f"{told} read exposed: it takes three to know the car's own colour."


def _other_paint(paint: tuple[str, ...]) -> str:
    verb = "is" if len(paint) == 1 else "are"
    return (
        f"{' and '.join(paint)} {verb} more than {OTHER_PAINT_E00:g} ΔE00 from every other panel: "
        "a paint of another colour, the works' own or later; not weighed."
    )


def _sun_may_explain(sign: ColourSign, fades: tuple[Fade, ...]) -> bool:
    return any(
        f.told_apart and f.change.delta_e00.value >= sign.away_e00.value
        for f in fades
        if f.subject == sign.subject
    )
