"""Findings on drawings: numbered, told by shape and words and never by colour alone."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from math import dist
from xml.etree import ElementTree

import pytest
import shapely
from tests.unit.dossier.conftest import car_of

from asfound.dossier.figures import (
    findings_sheet_svg,
    findings_svg,
    numbered,
    panel_svg,
    photo_findings_svg,
)
from asfound.record.convert.findings import Finding, finding_of

SVG = "{http://www.w3.org/2000/svg}"
DOOR = {"subject": "left door", "kind": "dent", "extent": "a spot", "x_mm": "300", "y_mm": "250"}
RING = '[{"kind": "ring", "points": [[0.2, 0.2], [0.4, 0.6]], "words": ""}]'


def dent(severity: str = "2", **cells: str) -> Finding:
    return finding_of({**DOOR, "severity": severity, **cells})


def marks_in(svg: str) -> list[ElementTree.Element]:
    """Marks of findings on a drawing, without those of its key."""
    root = ElementTree.fromstring(svg)
    return [g for g in root.iter(f"{SVG}g") if g.get("class") == "finding-mark"]


def strokes_of(mark: ElementTree.Element) -> int:
    return sum(path.get("d", "").count("v") for path in mark.iter(f"{SVG}path"))


def discs_of(svg: str) -> list[tuple[float, float, float]]:
    found = []
    for mark in marks_in(svg):
        circle = list(mark.iter(f"{SVG}circle"))[-1]
        x, y, r = (float(circle.get(name, "")) for name in ("cx", "cy", "r"))
        found.append((x, y, r))
    return found


@pytest.mark.parametrize("grade", range(5))
def test_as_many_strokes_as_the_severity_stand_under_the_number(grade: int) -> None:
    (mark,) = marks_in(findings_svg(car_of(), "left door", numbered([dent(str(grade))], first=7)))
    assert strokes_of(mark) == grade
    assert [text.text for text in mark.iter(f"{SVG}text")] == ["7"]


def test_a_grave_one_is_told_apart_by_its_ground_and_not_by_its_ink_alone() -> None:
    svg = findings_svg(car_of(), "left door", numbered([dent("3"), dent("4", x_mm="700")]))
    serious, grave = (list(mark.iter(f"{SVG}circle"))[-1].get("fill") for mark in marks_in(svg))
    assert serious != grave
    assert "grave, severity 4" in svg


def test_the_drawing_says_in_words_what_is_marked() -> None:
    svg = findings_svg(car_of(), "left door", numbered([dent("1")]))
    assert "<desc>1: dent, a spot, slight (1 of 4)</desc>" in svg
    assert "style=" not in svg
    assert "Nothing is marked here" in findings_svg(car_of(), "left door", [])


def test_a_mark_stands_at_its_place_in_the_panel_s_own_mm() -> None:
    svg = findings_svg(car_of(), "left door", numbered([dent()]))
    told = ElementTree.fromstring(svg).attrib
    ((x, y, _),) = discs_of(svg)
    x_mm = float(told["data-x0"]) + x / float(told["data-scale"])
    y_mm = float(told["data-y0"]) + y / float(told["data-scale"])
    assert (x_mm, y_mm) == pytest.approx((300, 250), abs=0.5)


def test_marks_of_one_place_stand_beside_each_other_and_lead_to_it() -> None:
    discs = discs_of(findings_svg(car_of(), "left door", numbered([dent() for _ in range(6)])))
    assert len(discs) == 6
    for one, other in combinations(discs, 2):
        assert dist(one[:2], other[:2]) > one[2] + other[2]


def test_what_has_no_place_is_not_drawn_and_an_outline_gives_one() -> None:
    nowhere = dent(x_mm="", y_mm="")
    outlined = replace(nowhere, outline=shapely.box(100, 100, 200, 180))
    svg = findings_svg(car_of(), "left door", numbered([nowhere, outlined]))
    (mark,) = marks_in(svg)
    assert [text.text for text in mark.iter(f"{SVG}text")] == ["2"]
    assert 'stroke-dasharray="1.5 4"' in svg
    assert "its outline" in svg


def test_the_film_s_drawing_bears_the_findings_besides() -> None:
    bare = panel_svg(car_of(), None, "left door")
    with_marks = panel_svg(car_of(), None, "left door", findings=numbered([dent()]))
    assert not marks_in(bare)
    assert len(marks_in(with_marks)) == 1


def test_the_unfolded_car_shows_each_on_its_panel_and_leads_there() -> None:
    wheel = dent(subject="road wheel")
    there = numbered([dent(), wheel, dent(subject="bonnet"), dent(subject="left wing")])
    svg = findings_sheet_svg(car_of(), there, links=lambda name: f"/of/{name}")
    numbers = [next(iter(mark.iter(f"{SVG}text"))).text for mark in marks_in(svg)]
    assert sorted(numbers) == ["1", "3", "4"]
    assert 'href="/of/left door"' in svg
    assert svg == findings_sheet_svg(car_of(), there, links=lambda name: f"/of/{name}")


def test_over_a_photograph_the_number_stands_at_the_ring() -> None:
    svg = photo_findings_svg(
        numbered([dent(photo_marks=RING), dent()]), width_px=400, height_px=300
    )
    box = re.search(r'viewBox="0 0 1000 ([\d.]+)"', svg)
    assert box is not None
    assert float(box[1]) == 750
    ((x, y, _),) = discs_of(svg)
    assert x == pytest.approx(300, abs=1)
    assert y == pytest.approx(0.2 * 750, abs=1)
    assert not photo_findings_svg(numbered([dent()]), width_px=4, height_px=3)


@pytest.mark.parametrize("number", [1, 42, 317])
def test_a_number_fits_into_its_disc(number: int) -> None:
    (mark,) = marks_in(findings_svg(car_of(), "left door", numbered([dent()], first=number)))
    text = next(iter(mark.iter(f"{SVG}text")))
    radius = float(list(mark.iter(f"{SVG}circle"))[-1].get("r", ""))
    assert 0.57 * float(text.get("font-size", "")) * len(str(number)) < 2 * radius
