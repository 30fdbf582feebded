"""Labels that collide when they are set larger are named, the less needful of two."""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from shapely import Polygon, box
from shapely.affinity import rotate

from asfound.dossier.figures import panel_svg
from asfound.dossier.figures.crowded import PHONE_SIZE, mark_crowded
from asfound.dossier.figures.palette import PALETTES
from asfound.dossier.figures.svg import Node
from asfound.dossier.figures.words import Style, text
from asfound.measure.film import FilmReading
from asfound.record.convert.film import panels_of
from asfound.record.folder import CarFolder

# Digits of a plain face are at most so wide (common practice, no source: 0.5 to 0.6 em).
DIGIT_EM, INK_EM = 0.56, 0.74


def word(x: float, y: float, words: str = "480") -> Node:
    style = Style(size=10.0, colour="#000")
    return text(words, x, y, style, PALETTES["page"], anchor="middle")


def marks(*labels: Node) -> list[bool]:
    mark_crowded(labels, size=20.0)
    return [label.attributes.get("class") == "roomy" for label in labels]


def test_the_first_of_two_that_collide_stays() -> None:
    assert marks(word(0, 0), word(20, 0)) == [False, True]
    assert marks(word(0, 0), word(60, 0)) == [False, False]
    assert marks(word(0, 0), word(0, 9)) == [False, True]


def test_one_that_is_left_out_takes_no_room() -> None:
    assert marks(word(0, 0), word(25, 0), word(50, 0)) == [False, True, False]


@pytest.mark.parametrize("number", range(4))
def test_numbers_of_a_panel_do_not_collide_in_a_hand(
    car: CarFolder, reading: FilmReading, number: int
) -> None:
    """The drawing's own text, read back from its bytes and set at the phone's size."""
    names = [p.panel for p in panels_of(car)]
    drawn = panel_svg(car, reading, names[number % len(names)])
    boxes: list[Polygon] = []
    said: list[str] = []
    for found in re.finditer(r"<text ([^>]*)>(\d+)</text>", drawn):
        told = dict(re.findall(r'([\w-]+)="([^"]*)"', found[1]))
        if "roomy" in told.get("class", "") or told.get("text-anchor") != "middle":
            continue
        if told["fill"] == PALETTES["page"].soft:
            continue  # the mm at the edges stand off the panel
        half, y = DIGIT_EM * PHONE_SIZE * len(found[2]) / 2, float(told["y"])
        ink = box(float(told["x"]) - half, y - INK_EM * PHONE_SIZE, float(told["x"]) + half, y)
        turn = re.match(r"rotate\((\S+) (\S+) (\S+)\)", told.get("transform", ""))
        if turn:
            ink = rotate(ink, float(turn[1]), origin=(float(turn[2]), float(turn[3])))
        boxes.append(ink)
        said.append(found[2])
    assert len(boxes) >= 2
    pairs = combinations(range(len(boxes)), 2)
    assert not [(said[i], said[j]) for i, j in pairs if boxes[i].intersects(boxes[j])]
