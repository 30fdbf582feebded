"""Marks drawn over a photograph: they stand where they were put, at any size of the picture."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from asfound.dossier.figures import marks_svg
from asfound.record.convert.photo_marks import Mark

SVG = "{http://www.w3.org/2000/svg}"


def test_a_ring_lies_in_the_box_it_was_drawn_in() -> None:
    ring = Mark(kind="ring", points=((0.2, 0.5), (0.4, 0.9)), words="blister")
    drawing = ET.fromstring(marks_svg([ring], width_px=4000, height_px=3000))
    assert drawing.get("viewBox") == "0 0 1000 750"
    ink = drawing.findall(f".//{SVG}ellipse")[-1]
    seen = [float(ink.get(name, "")) for name in ("cx", "cy", "rx", "ry")]
    assert seen == pytest.approx([300, 525, 100, 150])
    assert "blister" in "".join(drawing.itertext())


def test_an_arrow_s_head_is_at_its_tip_and_opens_towards_its_tail() -> None:
    arrow = Mark(kind="arrow", points=((0.1, 0.5), (0.6, 0.5)))
    drawing = ET.fromstring(marks_svg([arrow], width_px=1000, height_px=1000))
    ink = drawing.findall(f".//{SVG}path")[-1].get("d", "")
    head = [float(v) for v in re.findall(r"-?[\d.]+", ink)][4:]
    (x0, y0, x1, y1, x2, y2) = head
    assert (x1, y1) == (600, 500)
    assert x0 == x2 < 600
    assert (y0 + y2) / 2 == pytest.approx(500)


def test_words_are_no_markup_and_no_style_is_inline() -> None:
    mark = Mark(kind="words", points=((0.5, 0.5),), words="<script>alert(1)</script>")
    svg = marks_svg([mark], width_px=100, height_px=100)
    assert "<script" not in svg
    assert "style=" not in svg
