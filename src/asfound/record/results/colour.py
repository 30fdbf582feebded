"""The reading of a colour as ``asfound colour --json`` prints it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from asfound.base import Estimate
from asfound.measure.colour import CarColour, Fade, PanelSign, PlaceColour, Seam, ViewedColour
from asfound.record.convert.colour import instrument_doubt, thresholds_of
from asfound.record.convert.neighbours import neighbours_of
from asfound.record.folder import CarFolder
from asfound.record.results.colour_words import (
    ASSUMPTION,
    BothSigns,
    both_words,
    fade_words,
    judged,
    lr_words,
)
from asfound.weigh import SCALE

_DIGITS = 4
"""Digits after the point: the published check values of the difference have as many."""


def colour_json(
    reading: CarColour, car: CarFolder, *, both: Iterable[BothSigns] = ()
) -> dict[str, Any]:
    """Reading with what it was held against, and film and colour together."""
    doubt = instrument_doubt(car)
    return {
        "instrument": {"u": doubt.u, "source": doubt.source},
        "neighbours": "proposed from the sheet" if neighbours_of(car).proposed else "as written",
        "thresholds": "own table" if len(car.sheet("colour_thresholds")) else "as supplied",
        "groups": [_group(group, car) for group in reading.groups],
        "with_film": [_both(signs) for signs in both],
        "assumption": ASSUMPTION,
        "scale": SCALE,
    }


def _group(group: ViewedColour, car: CarFolder) -> dict[str, Any]:
    return {
        "illuminant": group.viewing.illuminant,
        "observer": group.viewing.observer,
        "stated": group.viewing.is_stated,
        "readings_n": group.readings_n,
        "places": [_place(place) for place in group.places],
        "fade": [_fade(fade) for fade in group.fades],
        "seams": [_seam(seam, car) for seam in group.seams],
        "off_colour": [_sign(sign) for sign in group.signs],
        "not_told": list(group.unsaid),
    }


def _place(place: PlaceColour) -> dict[str, Any]:
    mean = place.mean
    return {
        "subject": place.subject,
        "exposure": place.exposure,
        "readings_n": mean.readings_n,
        "L": _estimate(mean.l_star),
        "a": _estimate(mean.a_star),
        "b": _estimate(mean.b_star),
    }


def _fade(fade: Fade) -> dict[str, Any]:
    change = fade.change
    return {
        "subject": fade.subject,
        "hidden_n": fade.hidden_n,
        "exposed_n": fade.exposed_n,
        "delta_e00": _estimate(change.delta_e00),
        "delta_e76": _estimate(change.delta_e76),
        "delta_L": _estimate(change.delta_l),
        "delta_C": _estimate(change.delta_c),
        "delta_H": _estimate(change.delta_h),
        "grey_step": fade.grey.name,
        "told_apart": fade.told_apart,
        "reading": fade_words(fade),
    }


def _seam(seam: Seam, car: CarFolder) -> dict[str, Any]:
    return {
        "panel": seam.first,
        "other_panel": seam.second,
        "delta_e00": _estimate(seam.change.delta_e00),
        "delta_e76": _estimate(seam.change.delta_e76),
        "grey_step": seam.grey.name,
        "thresholds": [
            {
                "says": said.says,
                "within": said.is_within,
                "measure": said.threshold.measure,
                "over": said.threshold.over,
                "up_to": said.threshold.up_to,
                "field": said.threshold.field,
                "source": said.threshold.source,
                "status": said.threshold.status,
            }
            for said in judged(seam.change, thresholds_of(car))
        ],
    }


def _sign(found: PanelSign) -> dict[str, Any]:
    return {
        "panel": found.sign.subject,
        "delta_e00": _estimate(found.sign.away_e00),
        "lr_later_work": _ratio(found.sign.lr_later_work),
        "reading": lr_words(found.sign.lr_later_work),
        "sun_may_explain": found.sun_may_explain,
    }


def _both(signs: BothSigns) -> dict[str, Any]:
    return {
        "panel": signs.panel,
        "film_lr": _ratio(signs.film_lr),
        "colour_lr": _ratio(signs.colour_lr),
        "joint_lr": None if signs.joint_lr is None else _ratio(signs.joint_lr),
        "reading": both_words(signs),
    }


def _estimate(estimate: Estimate) -> dict[str, float]:
    return {"value": round(estimate.value, _DIGITS), "u": round(estimate.u, _DIGITS)}


def _ratio(lr: float) -> float:
    return float(f"{lr:.6g}")
