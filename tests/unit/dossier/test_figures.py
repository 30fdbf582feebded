"""The survey map, a panel and the front: what stands on them, and that words do not collide."""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import dataclass, replace
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from shapely import Polygon
from shapely.affinity import rotate
from tests.unit.dossier.conftest import DOOR, sheets

from asfound.base import InputError
from asfound.choose import FrontPoint
from asfound.dossier.figures import front_svg, panel_svg, sheet_svg
from asfound.dossier.figures.levels import levels_of
from asfound.dossier.figures.palette import PALETTES, luminance, tint
from asfound.measure.film import FilmReading
from asfound.record.folder import CarFolder, Sheet

SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(svg: str) -> list[str]:
    return ["".join(t.itertext()) for t in parsed(svg).iter(f"{SVG}text")]


@pytest.fixture(scope="module")
def drawings(car: CarFolder, reading: FilmReading) -> dict[str, str]:
    points = [
        FrontPoint(kept=0.5, cost=0, options={}, within_brief=True),
        FrontPoint(kept=0.8, cost=400, options={}, within_brief=True),
    ]
    out = {}
    for theme in ("page", "print"):
        out[f"sheet {theme}"] = sheet_svg(car, reading, theme=theme, links=lambda p: f"/p?{p}&x=1")
        out[f"panel {theme}"] = panel_svg(car, reading, "left door", theme=theme)
        out[f"front {theme}"] = front_svg(
            points, points[1], cost_max=700, currency="EUR", theme=theme
        )
    out["sheet unread"] = sheet_svg(car, None)
    out["panel unread"] = panel_svg(car, reading, "boot & lid")
    return out


def test_figures_are_well_formed_and_bear_no_inline_style(drawings: dict[str, str]) -> None:
    for name, svg in drawings.items():
        nodes = list(parsed(svg).iter())
        assert nodes[0].tag == f"{SVG}svg", name
        assert not [n for n in nodes if "style" in n.attrib or n.tag == f"{SVG}style"], name
        assert "nan" not in svg.lower().replace("panel", ""), name


def test_ids_are_unique_and_every_reference_to_one_holds(drawings: dict[str, str]) -> None:
    page = drawings["sheet page"] + drawings["panel page"]
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(set(ids)) == len(ids)
    assert set(re.findall(r"url\(#([^)]+)\)", page)) <= set(ids)


def test_print_has_literal_colours_only(drawings: dict[str, str]) -> None:
    for name in ("sheet print", "panel print", "front print"):
        assert "var(" not in drawings[name]


def test_every_panel_is_named_and_a_blank_one_says_so(drawings: dict[str, str]) -> None:
    shown = words(drawings["sheet page"])
    assert {"BONNET", "LEFT DOOR", "LEFT WING", "BOOT & LID"} <= set(shown)
    assert shown.count("no readings") == 1
    assert "aluminium" in shown
    assert "metal not known" in shown


def test_later_work_stands_in_words_with_its_probability(
    drawings: dict[str, str], reading: FilmReading
) -> None:
    door = next(p for p in reading.panels if p.panel == "left door")
    assert door.p_later_work > 0.9, "700 µm more on a third of a door is later work"
    assert door.areas
    shown = words(drawings["sheet page"])
    for area in door.areas:
        assert area.kind in shown
    assert any("%" in word for word in shown)


def test_each_panel_links_to_its_page(drawings: dict[str, str]) -> None:
    links = [a.attrib["href"] for a in parsed(drawings["sheet page"]).iter(f"{SVG}a")]
    assert links == [f"/p?{p}&x=1" for p in ("bonnet", "left door", "left wing", "boot & lid")]


def test_panel_figure_turns_a_tap_into_the_panels_own_mm(
    car: CarFolder, reading: FilmReading
) -> None:
    root = parsed(panel_svg(car, reading, "left door"))
    x0, y0, scale = (float(root.attrib[f"data-{k}"]) for k in ("x0", "y0", "scale"))
    outline = next(n for n in root.iter(f"{SVG}path") if n.attrib.get("stroke-linejoin") == "round")
    drawn = [float(v) for v in re.findall(r"-?[\d.]+", outline.attrib["d"])]
    xs = [x0 + x / scale for x in drawn[0::2]]
    ys = [y0 + y / scale for y in drawn[1::2]]
    assert (min(xs), max(xs)) == pytest.approx((0, 1000), abs=0.3)
    assert (min(ys), max(ys)) == pytest.approx((0, 700), abs=0.3)


def test_panel_figure_shows_the_film_at_each_spot(car: CarFolder, reading: FilmReading) -> None:
    panel = next(p for p in reading.panels if p.panel == "left wing")
    shown = words(panel_svg(car, reading, "left wing"))
    for spot in panel.spots:
        assert f"{spot.thickness_um:.0f}" in shown


def test_unknown_panel_is_refused_by_name(car: CarFolder) -> None:
    with pytest.raises(InputError, match="left door"):
        panel_svg(car, None, "third door")


def test_same_input_same_bytes(car: CarFolder, reading: FilmReading) -> None:
    assert sheet_svg(car, reading) == sheet_svg(car, reading)
    assert panel_svg(car, reading, "bonnet") == panel_svg(car, reading, "bonnet")


@dataclass(frozen=True)
class Word:
    text: str
    box: Polygon


def boxes(svg: str) -> list[Word]:
    """Where each word of the drawing stands, by an estimate of the test's own."""
    out = []
    for text in parsed(svg).iter(f"{SVG}text"):
        said, a = "".join(text.itertext()), text.attrib
        size, x, y = float(a["font-size"]), float(a["x"]), float(a["y"])
        width = len(said) * (size * 0.5 + float(a.get("letter-spacing", 0)))
        left = x - {"middle": 0.5, "end": 1.0}.get(a.get("text-anchor", "start"), 0.0) * width
        box = shapely.box(left, y - 0.72 * size, left + width, y + 0.1 * size)
        turn = re.match(r"rotate\((\S+) (\S+) (\S+)\)", a.get("transform", ""))
        if turn:
            angle, cx, cy = map(float, turn.groups())
            box = rotate(box, angle, origin=(cx, cy))
        out.append(Word(said, box))
    return out


@pytest.mark.parametrize(
    "figure", ["sheet page", "sheet print", "panel page", "front page", "sheet unread"]
)
def test_words_do_not_collide(drawings: dict[str, str], figure: str) -> None:
    found = boxes(drawings[figure])
    assert len(found) > 5
    clashes = [
        (a.text, b.text)
        for a, b in itertools.combinations(found, 2)
        if a.box.intersection(b.box).area > 0
    ]
    assert not clashes


def test_no_word_leaves_the_drawing(drawings: dict[str, str]) -> None:
    for name, svg in drawings.items():
        x, y, w, h = map(float, parsed(svg).attrib["viewBox"].split())
        page = shapely.box(x, y, x + w, y + h)
        assert [word.text for word in boxes(svg) if not page.contains(word.box)] == [], name


def test_placement_puts_a_panel_where_the_table_says(car: CarFolder, reading: FilmReading) -> None:
    """Two equal panels 2 m apart on the sheet are drawn 2 m apart by the scale bar's scale."""
    columns = ("panel", "section", "substrate", "outline_wkt", "placement")
    rows = tuple((p, "s", "steel", DOOR, at) for p, at in (("a", "0 0 0"), ("b", "2000 0 0")))
    placed = CarFolder(sheets={"panels": Sheet(columns=columns, rows=rows)})
    root = parsed(sheet_svg(placed, None))
    lefts, widths = [], []
    for group in root.iter(f"{SVG}g"):
        if group.attrib.get("class") == "panel":
            d = group.findall(f"{SVG}path")[-1].attrib["d"]
            xs = [float(v) for v in re.findall(r"-?[\d.]+", d)][0::2]
            lefts.append(min(xs))
            widths.append(max(xs) - min(xs))
    assert widths[0] == pytest.approx(widths[1], abs=0.2)
    assert (lefts[1] - lefts[0]) / widths[0] == pytest.approx(2.0, abs=0.01)


def test_contour_steps_are_round_and_thick_filler_leaves_the_scale(
    reading: FilmReading,
) -> None:
    levels = levels_of(reading)
    assert levels is not None
    assert levels.saturated, "800 µm on a car of 120 µm is beyond any finish"
    assert levels.step_um in {5, 10, 20, 25, 50, 100}
    steps = np.diff(levels.edges_um)
    assert np.allclose(steps, levels.step_um)


def test_large_doubt_is_hatched(car: CarFolder, reading: FilmReading) -> None:
    def doubtful(u_share: float) -> str:
        panels = tuple(
            replace(p, surface=replace(p.surface, u_um=p.surface.film_um * u_share))
            for p in reading.panels
        )
        return sheet_svg(car, replace(reading, panels=panels))

    assert 'class="doubt"' in doubtful(0.4)
    assert 'class="doubt"' not in doubtful(0.1)


@pytest.mark.source("Nuñez, Anderton, Renslow 2018, PLoS ONE 13(7): lightness rises evenly")
def test_tints_fall_in_lightness_along_the_whole_scale() -> None:
    light = [_lightness(luminance(tint(share))) for share in np.linspace(0, 1, 41)]
    assert all(a > b for a, b in itertools.pairwise(light))
    falls = -np.diff(light)
    assert falls.max() < 3 * falls.min()


def _lightness(y: float) -> float:
    """CIE 1976 L* from relative luminance (CIE 15:2004, 8.2.1)."""
    return 116 * y ** (1 / 3) - 16 if y > (6 / 29) ** 3 else y * (29 / 3) ** 3


@pytest.mark.source("WCAG 2.2, 1.4.3: 4.5 to 1 for text")
def test_print_inks_stand_out_from_the_paper() -> None:
    palette = PALETTES["print"]
    for ink in (palette.ink, palette.soft, palette.accent):
        paper = luminance(palette.paper)
        assert (paper + 0.05) / (luminance(ink) + 0.05) >= 4.5


def test_front_marks_the_choice_and_the_limit(drawings: dict[str, str]) -> None:
    shown = words(drawings["front page"])
    assert "chosen: keeps 80.0 %" in shown
    assert "the brief's limit" in shown
    assert "cost, EUR" in shown


def test_front_without_points_or_choice_is_still_a_drawing() -> None:
    assert parsed(front_svg([], None, cost_max=None, currency="")).tag == f"{SVG}svg"


def test_fifty_panels_are_drawn_with_every_name() -> None:
    rows = tuple((f"panel {n}", "s", "steel", DOOR, "left") for n in range(50))
    columns = ("panel", "section", "substrate", "outline_wkt", "view")
    many = CarFolder(sheets={"panels": Sheet(columns=columns, rows=rows)})
    shown = words(sheet_svg(many, None))
    assert {f"PANEL {n}" for n in range(50)} <= set(shown)


def test_without_a_table_of_panels_boxes_around_the_spots_are_drawn() -> None:
    bare = CarFolder(sheets={"film": sheets()["film"]})
    assert {"BONNET", "LEFT DOOR", "LEFT WING"} <= set(words(sheet_svg(bare, None)))
    assert math.isfinite(float(parsed(panel_svg(bare, None, "bonnet")).attrib["data-scale"]))
