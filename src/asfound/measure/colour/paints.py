"""Which panels carry one paint, by gaps between their colours."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from scipy.sparse.csgraph import connected_components

from asfound.measure.colour.difference import delta_e00
from asfound.measure.colour.readings import ColourMean


def paints_apart(
    means: Mapping[str, ColourMean], *, apart_e00: float
) -> tuple[tuple[str, ...], ...]:
    """Panels by paint, the paint on most panels first.

    Parameters
    ----------
    means : mapping of str to ColourMean
        Exposed colour of each panel, all under one light and observer.
    apart_e00 : float
        Two panels of ΔE00 up to this are of one paint, and so is whatever hangs together so.

    Notes
    -----
    Single linkage: a row of small steps makes one paint, as uneven fading does.
    """
    names = list(means)
    labs = [mean.lab for mean in means.values()]
    near = np.array([[delta_e00(one, two) <= apart_e00 for two in labs] for one in labs])
    count, which = connected_components(near, directed=False)
    paints = [tuple(n for n, w in zip(names, which, strict=True) if w == p) for p in range(count)]
    return tuple(sorted(paints, key=lambda paint: (-len(paint), paint)))
