"""The small sheet beside the decisions: which panels lead where, and which is marked."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from asfound.demo.car import demo_folder
from asfound.desk.decisions.small_sheet import sheet_of_piece, sheet_of_rows

PIECES = ("left door", "right rear wing", "gearbox")


def links_of(svg: str) -> list[ET.Element]:
    return [one for one in ET.fromstring(svg).iter() if one.tag.endswith("}a")]


def test_panels_lead_to_their_rows() -> None:
    links = links_of(sheet_of_rows(demo_folder(), PIECES))
    assert {(one.get("data-panel"), one.get("href")) for one in links} == {
        ("left door", "#row-left-door"),
        ("right rear wing", "#row-right-rear-wing"),
    }
    assert all(one.get("aria-label") == one.get("data-panel") for one in links)


def test_the_piece_of_the_page_is_marked_and_one_off_the_sheet_has_none() -> None:
    folder = demo_folder()
    links = links_of(sheet_of_piece(folder, "car", "left door", PIECES))
    assert [one.get("data-panel") for one in links if one.get("class") == "marked"] == ["left door"]
    assert {one.get("href") for one in links} == {
        "/cars/car/decisions/pieces/left%20door/",
        "/cars/car/decisions/pieces/right%20rear%20wing/",
    }
    assert sheet_of_piece(folder, "car", "gearbox", PIECES) == ""
