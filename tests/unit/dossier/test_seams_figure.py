"""Seams on the sheet and swatches: thicker where worse, told in words, safe for a strict page."""

from __future__ import annotations

import re

import pytest
from tests.unit.dossier.conftest import car_of

from asfound.dossier.figures import seams_svg, swatch_svg
from asfound.dossier.figures.swatch import shown
from asfound.record.derived import colour_reading
from asfound.record.folder import CarFolder, Sheet

HEAD = ("panel", "x_mm", "y_mm", "L", "a", "b", "exposure", "illuminant", "observer", "instrument")
INSTRUMENTS = Sheet(
    columns=("instrument", "kind", "u", "unit", "source"),
    rows=(("meter", "colour", "0.1", "CIELAB", "made up"),),
)


def coloured(*colours: tuple[str, str]) -> CarFolder:
    rows = tuple(
        (panel, "100", "100", lightness, "-13", "18", "exposed", "D65", "10", "meter")
        for panel, lightness in colours
    )
    pairs = (("bonnet", "left door"), ("left door", "left wing"), ("bonnet", "boot & lid"))
    return car_of(
        colour=Sheet(columns=HEAD, rows=rows),
        neighbours=Sheet(columns=("panel", "other_panel"), rows=pairs),
        instruments=INSTRUMENTS,
    )


def drawn(car: CarFolder, **options: object) -> str:
    return seams_svg(car, colour_reading(car).groups[0], **options)  # type: ignore[arg-type]


CAR = coloured(("bonnet", "45"), ("left door", "48"), ("left wing", "48.1"), ("boot & lid", "45"))


def test_it_says_in_words_what_it_shows_and_has_no_inline_style() -> None:
    svg = drawn(CAR)
    told = re.search("<desc>(.*?)</desc>", svg)
    assert told is not None
    assert told[1].index("bonnet to left door") < told[1].index("left door to left wing")
    assert "style=" not in svg
    assert svg == drawn(CAR)


def test_the_worse_seam_has_the_thicker_line_and_no_difference_is_dotted() -> None:
    svg = drawn(CAR).split('class="keys"')[0]
    strokes = re.findall(
        r'stroke="#1f1c17" stroke-width="([\d.]+)"( stroke-dasharray="[^"]+")?', svg
    )
    widths = [float(width) for width, _ in strokes]
    assert widths[0] == max(widths) > min(widths)
    assert "1 4.5" in strokes[-1][1]


def test_panels_lead_somewhere_and_unread_ones_say_so() -> None:
    svg = drawn(coloured(("bonnet", "45"), ("left door", "48")), links=lambda name: f"/to/{name}")
    assert 'href="/to/left wing"' in svg
    assert "left wing: no exposed reading" in svg


def test_a_car_without_readings_is_drawn_bare() -> None:
    assert "No seam was compared" in seams_svg(car_of(), None)


@pytest.mark.source("IEC 61966-2-1 and CIE 15: white and black are the ends of L*, grey has no hue")
@pytest.mark.parametrize(("lightness", "expected"), [(0.0, "#000000"), (100.0, "#ffffff")])
def test_the_ends_of_lightness_are_black_and_white(lightness: float, expected: str) -> None:
    assert shown((lightness, 0.0, 0.0)).hex == expected


@pytest.mark.from_memory
def test_a_known_colour_of_the_screen_is_met() -> None:
    """The screen's pure red lies at L* 53.24, a* 80.09, b* 67.20 under D65 (2°)."""
    assert shown((53.24, 80.09, 67.20)).hex == "#ff0000"


def test_what_the_screen_cannot_show_is_struck_through_and_said() -> None:
    inside, outside = swatch_svg((45, -13, 18), words="lid"), swatch_svg((50, 0, -120), words="lid")
    assert "as the screen can show it" in inside
    assert "<path" not in inside
    assert "beyond what the screen can show" in outside
    assert outside.count("<path") == 2
