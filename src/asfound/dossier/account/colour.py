"""The colour: places read, and apart from them fade, seams and panels off the car's colour."""

from __future__ import annotations

from typing import Any

from asfound.base import Estimate
from asfound.dossier.account.survey import when_and_by
from asfound.dossier.numbers import MISSING, plain
from asfound.measure.colour import CarColour, Fade, PanelSign, PlaceColour, Seam, ViewedColour
from asfound.measure.film import FilmReading
from asfound.record.convert.colour import instrument_doubt, thresholds_of
from asfound.record.convert.neighbours import neighbours_of
from asfound.record.folder import CarFolder
from asfound.record.results.colour_words import (
    ASSUMPTION,
    DISAGREE,
    BothSigns,
    both_signs,
    fade_words,
    judged,
    lr_figure,
    lr_words,
)
from asfound.weigh import SCALE


def about_colour(
    car: CarFolder, colour: CarColour, *, film: FilmReading | None = None
) -> dict[str, Any]:
    """Readings by light and observer, what each group tells, and film beside colour.

    Parameters
    ----------
    car : CarFolder
    colour : CarColour
        Its reading.
    film : FilmReading, optional
        Where the film was read too: panels on which both spoke are set side by side.
    """
    doubt = instrument_doubt(car)
    return {
        "taken": when_and_by(list(car.sheet("colour"))),
        "readings_n": len(car.sheet("colour")),
        "doubt": f"{doubt.u:g} CIELAB ({doubt.source})",
        "drawn": group_drawn(car, colour) is not None,
        "proposed": neighbours_of(car).proposed,
        "groups": [_group(group, car) for group in colour.groups],
        "both": [_both(signs) for signs in (both_signs(film, colour) if film else ())],
        "thresholds": [
            [t.measure, plain(t.over, 1), plain(t.up_to, 1), t.meaning, t.field, t.source]
            for t in thresholds_of(car)
        ],
        "assumption": ASSUMPTION,
        "disagree": DISAGREE,
        "scale": SCALE,
    }


def group_drawn(car: CarFolder, colour: CarColour) -> ViewedColour | None:
    """The first group that has seams, where there are panels to draw them between."""
    if "panels" not in car.sheets:
        return None
    return next((group for group in colour.groups if group.seams), None)


def _group(group: ViewedColour, car: CarFolder) -> dict[str, Any]:
    viewing = group.viewing
    degrees = "°" if viewing.is_stated else ""
    return {
        "name": f"Light {viewing.illuminant}, observer {viewing.observer}{degrees}",
        "stated": viewing.is_stated,
        "places": [_place(place) for place in group.places],
        "fades": [_fade(fade) for fade in group.fades],
        "seams": [_seam(seam, car) for seam in group.seams],
        "signs": [_sign(found) for found in group.signs],
        "unsaid": list(group.unsaid),
    }


def _place(place: PlaceColour) -> list[str]:
    mean = place.mean
    three = (mean.l_star, mean.a_star, mean.b_star)
    return [place.subject, place.exposure, str(mean.readings_n), *(_with_u(part) for part in three)]


def _fade(fade: Fade) -> list[str]:
    change = fade.change
    four = (change.delta_e00, change.delta_l, change.delta_c, change.delta_h)
    return [fade.subject, *(_with_u(part) for part in four), fade.grey.name, fade_words(fade)]


def _seam(seam: Seam, car: CarFolder) -> list[str]:
    said = judged(seam.change, thresholds_of(car))
    words = "; ".join(f"{j.threshold.field or j.threshold.source}: {j.says}" for j in said)
    e00 = _with_u(seam.change.delta_e00)
    return [f"{seam.first}, {seam.second}", e00, seam.grey.name, words]


def _sign(found: PanelSign) -> list[str]:
    sign = found.sign
    sun = "; its own fade is as large" if found.sun_may_explain else ""
    words = lr_words(sign.lr_later_work) + sun
    return [sign.subject, _with_u(sign.away_e00), lr_figure(sign.lr_later_work), words]


def _both(signs: BothSigns) -> list[str]:
    joint = signs.joint_lr
    return [
        signs.panel,
        lr_figure(signs.film_lr),
        lr_figure(signs.colour_lr),
        MISSING if joint is None else lr_figure(joint),
        f"not taken together: {signs.why_not}" if joint is None else lr_words(joint),
    ]


def _with_u(estimate: Estimate) -> str:
    return f"{plain(estimate.value, 1)} ({plain(estimate.u, 1)})"
