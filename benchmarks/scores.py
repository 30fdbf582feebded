"""Scores of a reading against the truth, pooled over cars."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from benchmarks.cars import Car
from numpy.typing import NDArray
from sklearn.metrics import average_precision_score, roc_auc_score

from asfound.measure.film import FilmReading


@dataclass(slots=True)
class Answers:
    """Probabilities and truths, one a spot, one a panel, one a true local shape."""

    spot_p: list[float]
    spot_true: list[bool]
    panel_p: list[float]
    panel_true: list[bool]
    iou_best: list[float]
    iou_union: list[float]
    iou_met: list[float]
    panel_met: list[bool]


def gather(cars: Sequence[Car], read: Callable[[Car], FilmReading]) -> Answers:
    """Every answer of ``read`` beside its truth."""
    out = Answers([], [], [], [], [], [], [], [])
    for car in cars:
        for panel in read(car).panels:
            truth = car.truth[panel.panel]
            by_name = {spot.spot: spot.p_later_work for spot in panel.spots}
            out.spot_p += [by_name[str(k + 1)] for k in range(len(truth.later))]
            out.spot_true += truth.later.tolist()
            out.panel_p.append(panel.p_later_work)
            out.panel_true.append(truth.touched)
            out.panel_met.append(not truth.touched or bool(truth.later.any()))
            spots = shapely.points([(s.x_mm, s.y_mm) for s in panel.spots])
            _outlines(out, truth.shapes, [a.outline for a in panel.areas], truth.kind, spots)
    return out


def _outlines(
    out: Answers,
    shapes: list[shapely.Polygon],
    areas: list[shapely.Polygon],
    kind: str,
    spots: NDArray[np.object_],
) -> None:
    if not shapes or kind:  # under a whole-panel refinish a local outline is not defined
        return
    for shape in shapes:
        best = max([iou(shape, area) for area in areas], default=0.0)
        out.iou_best.append(best)
        if shapely.contains(shape, spots).any():
            out.iou_met.append(best)
    out.iou_union.append(iou(shapely.union_all(shapes), shapely.union_all(areas)))


def iou(a: shapely.Geometry, b: shapely.Geometry) -> float:
    """Intersection over union of two shapes."""
    return float(a.intersection(b).area / max(a.union(b).area, 1e-9))


def calibration_error(p: NDArray[np.float64], true: NDArray[np.bool_], bins_n: int = 10) -> float:
    """Expected calibration error over equal bins of probability."""
    place = np.minimum((p * bins_n).astype(int), bins_n - 1)
    gaps = [
        (place == b).mean() * abs(p[place == b].mean() - true[place == b].mean())
        for b in range(bins_n)
        if (place == b).any()
    ]
    return float(sum(gaps))


def figures(answers: Answers) -> dict[str, float]:
    """The figures of merit."""
    p, true = np.array(answers.spot_p), np.array(answers.spot_true)
    pp, pt = np.array(answers.panel_p), np.array(answers.panel_true)
    met = np.array(answers.panel_met)
    return {
        "spot average precision": float(average_precision_score(true, p)),
        "spot Brier": float(((p - true) ** 2).mean()),
        "panel AUC": float(roc_auc_score(pt, pp)),
        "panel AUC, work met by a spot": float(roc_auc_score(pt[met], pp[met])),
        "panel AUC, spots' truth known": float(roc_auc_score(pt, pt & met)),
        "spot calibration error": calibration_error(p, true),
        "panel calibration error": calibration_error(pp, pt),
        "mean IoU, best match": float(np.mean(answers.iou_best)),
        "mean IoU, best, met by a spot": float(np.mean(answers.iou_met)),
        "mean IoU, union": float(np.mean(answers.iou_union)),
    }
