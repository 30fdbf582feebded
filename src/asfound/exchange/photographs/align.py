"""A later photograph laid over an earlier one of the same thing."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image

from asfound.base import NotEnoughEvidenceError
from asfound.exchange.photographs.shown import shown

Progress = Callable[[float], None]

LONGEST_PX = 1_200
_KEYPOINTS_N = 800
_LEAST_MATCHES = 25
"""Fewer points that agree could do so by chance (own trial, no source)."""
_NEAR_PX = 3.0
_SEED = 20_260


@dataclass(frozen=True, slots=True, kw_only=True)
class Aligned:
    """The later photograph in the frame of the earlier one.

    ``before`` and ``after`` are JPEGs of the same size; ``matches_n`` points agreed on the map,
    their distances from it having the root mean square ``rms_px``.
    """

    before: bytes
    after: bytes
    matches_n: int
    rms_px: float


def aligned(before: Path, after: Path, tell: Progress) -> Aligned:
    """Both photographs in one frame, so that they can be wiped over each other.

    ``tell`` is called with the share done, 0–1, before each step; what it raises ends the work.

    Raises
    ------
    NotEnoughEvidenceError
        If too few points of the two agree: taken from too far apart, or of another thing.

    Notes
    -----
    Oriented FAST and rotated BRIEF features, matched both ways, and a projective map by random
    sample consensus (Fischler and Bolles, 1981), which holds for a flat thing or a turned camera.
    The draws have a fixed seed: the same two photographs give the same picture.
    """
    # Loaded here, since it takes long and few pairs are laid.
    from skimage.measure import ransac  # noqa: PLC0415
    from skimage.transform import ProjectiveTransform, warp  # noqa: PLC0415

    tell(0.0)
    first = _grey(shown(before, longest_px=LONGEST_PX))
    tell(0.15)
    second = _grey(shown(after, longest_px=LONGEST_PX))
    source, target = _matched(first[1], second[1], tell)
    tell(0.8)
    if len(source) >= _LEAST_MATCHES:
        model, agree = ransac(
            (source, target),
            ProjectiveTransform,
            min_samples=4,
            residual_threshold=_NEAR_PX,
            max_trials=2_000,
            rng=np.random.default_rng(_SEED),
        )
    else:
        model, agree = None, np.zeros(0, dtype=bool)
    if model is None or int(agree.sum()) < _LEAST_MATCHES:
        raise NotEnoughEvidenceError(
            "The two photographs have too few points in common to be laid over each other; "
            "show them side by side, or take the later one from where the first was taken."
        )
    tell(0.9)
    residuals = model.residuals(source[agree], target[agree])
    laid = warp(np.asarray(second[0]), model, output_shape=first[1].shape, cval=1.0)
    return Aligned(
        before=_jpeg(first[0]),
        after=_jpeg(Image.fromarray((laid * 255).round().astype(np.uint8))),
        matches_n=int(agree.sum()),
        rms_px=float(np.sqrt(np.mean(residuals**2))),
    )


def _grey(jpeg: bytes) -> tuple[Image.Image, np.ndarray]:
    picture = Image.open(io.BytesIO(jpeg)).convert("RGB")
    return picture, np.asarray(picture.convert("L"), dtype=np.float64) / 255


def _matched(
    first: np.ndarray, second: np.ndarray, tell: Progress
) -> tuple[np.ndarray, np.ndarray]:
    """Places, as (x, y), of features that name each other in the two pictures."""
    from skimage.feature import ORB, match_descriptors  # noqa: PLC0415 - as above

    found = []
    for picture, share in ((first, 0.3), (second, 0.5)):
        tell(share)
        detector = ORB(n_keypoints=_KEYPOINTS_N, fast_threshold=0.05)
        try:
            detector.detect_and_extract(picture)
        except RuntimeError:  # a picture without any corner
            return np.zeros((0, 2)), np.zeros((0, 2))
        found.append((detector.keypoints, detector.descriptors))
    tell(0.7)
    pairs = match_descriptors(found[0][1], found[1][1], cross_check=True, max_ratio=0.85)
    return found[0][0][pairs[:, 0]][:, ::-1], found[1][0][pairs[:, 1]][:, ::-1]


def _jpeg(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue()
