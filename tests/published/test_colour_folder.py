"""The published pairs once more, as rows of a car folder: nothing is lost on the way to the JSON.

Values that the library gives are checked in ``test_ciede2000.py``; here the whole path is.
"""

from __future__ import annotations

from typing import Any

import pytest
from tests.published.test_ciede2000 import PAIRS

from asfound.record.derived import colour_reading
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.colour import colour_json

HEAD = ("panel", "part", "x_mm", "y_mm", "L", "a", "b", "exposure", "illuminant", "observer")


def result_of(*rows: tuple[str, ...], pairs: tuple[tuple[str, str], ...] = ()) -> dict[str, Any]:
    neighbours = Sheet(columns=("panel", "other_panel"), rows=pairs)
    car = CarFolder(sheets={"colour": Sheet(columns=HEAD, rows=rows), "neighbours": neighbours})
    (group,) = colour_json(colour_reading(car), car)["groups"]
    return group


def row(panel: str, lab: tuple[float, ...], exposure: str = "exposed") -> tuple[str, ...]:
    return (panel, "", "0", "0", *(f"{value:.4f}" for value in lab), exposure, "D65", "10")


@pytest.mark.source(
    "Sharma, Wu, Dalal, Color Research and Application 30 (2005) 21-30, test data: 34 pairs"
)
def test_every_published_pair_as_a_seam_between_two_panels() -> None:
    rows = [
        row(f"{side}{number}", lab)
        for number, one, two, _ in PAIRS
        for side, lab in (("a", one), ("b", two))
    ]
    pairs = tuple((f"a{number}", f"b{number}") for number, *_ in PAIRS)
    found = {s["panel"]: s["delta_e00"]["value"] for s in result_of(*rows, pairs=pairs)["seams"]}
    assert len(PAIRS) == 34
    for number, _, _, published in PAIRS:
        assert found[f"a{number}"] == pytest.approx(published, abs=0.00005001)


@pytest.mark.source("ISO 105-A02:1993, clause 2.4: CIELAB differences of the steps")
@pytest.mark.parametrize(
    ("lighter", "step"),
    [(0.8, "4-5"), (1.7, "4"), (2.5, "3-4"), (3.4, "3"), (4.8, "2-3"), (6.8, "2"), (13.6, "1")],
)
def test_a_fade_in_lightness_alone_has_the_step_of_the_grey_scale(
    lighter: float, step: str
) -> None:
    rows = (row("lid", (40, 5, 5), "hidden"), row("lid", (40 + lighter, 5, 5)))
    (fade,) = result_of(*rows)["fade"]
    assert fade["grey_step"] == step
    assert fade["delta_L"]["value"] == pytest.approx(lighter)
