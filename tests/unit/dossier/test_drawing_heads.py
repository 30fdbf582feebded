"""The head that every drawing has: SVG 2 and the accessible names of SVG-AAM, which reads the
first ``title`` as a name and the first ``desc`` as a description."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from asfound.dossier.figures.svg import node, render, svg_root

SVG = "{http://www.w3.org/2000/svg}"


def test_a_picture_bears_its_name_its_description_and_its_size() -> None:
    circle = node("circle", r=2)
    drawn = svg_root("Bars", circle, width=40, height=30.05, told="Two bars.", sized=True)
    root = ET.fromstring(render(drawn))
    assert [child.tag for child in root] == [f"{SVG}title", f"{SVG}desc", f"{SVG}circle"]
    assert root.attrib["viewBox"] == f"0 0 {root.attrib['width']} {root.attrib['height']}"
    assert (root.attrib["role"], root.attrib["aria-label"]) == ("img", root[0].text)


def test_a_drawing_that_leads_on_is_a_group_and_an_ornament_is_hidden() -> None:
    led = ET.fromstring(render(svg_root("Car", width=4, height=3, corner=(-1, -2), leads=True)))
    assert (led.attrib["role"], led.attrib["viewBox"]) == ("group", "-1 -2 4 3")
    assert "width" not in led.attrib
    bare = ET.fromstring(render(svg_root("", width=4, height=3)))
    assert (bare.attrib["aria-hidden"], list(bare)) == ("true", [])
    assert not {"role", "aria-label"} & set(bare.attrib)
