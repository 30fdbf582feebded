"""What is left above a floor and how an edge runs, as drawings."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from asfound.base import InputError
from asfound.dossier.figures import edge_svg, wedge_svg
from asfound.measure.gaps import EdgeGround, EdgeReading, GapResult, GapSurvey, read_gaps
from asfound.record.derived import polish_reading
from asfound.record.folder import CarFolder, Sheet

SVG = "{http://www.w3.org/2000/svg}"
OUTLINE = "POLYGON ((0 0, 1000 0, 1000 800, 0 800, 0 0))"


def sheet(head: str, *rows: str) -> Sheet:
    return Sheet(columns=tuple(head.split(",")), rows=tuple(tuple(r.split(",")) for r in rows))


def folder(*, basis: str = "guess", floor_um: int = 190) -> CarFolder:
    """Four spots of which the first ends below the floor and the second just above it."""
    return CarFolder(
        sheets={
            "panels": Sheet(
                columns=("panel", "section", "substrate", "outline_wkt"),
                rows=(("bonnet & lid", "front", "steel", OUTLINE),),
            ),
            "polish": sheet(
                "panel,area,spot,x_mm,y_mm,before_um,after_um,passes,process",
                *(
                    f"bonnet & lid,,P{i},{200 * i + 150},{150 * i + 150},{b},{b - 10},2,soft pad"
                    for i, b in enumerate((180, 230, 280, 330))
                ),
            ),
            "polish_floors": sheet(
                "panel,area,floor_um,basis", f"bonnet & lid,,{floor_um},{basis}"
            ),
        }
    )


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(svg: str) -> list[str]:
    return ["".join(t.itertext()) for t in parsed(svg).iter(f"{SVG}text")]


def wedges(svg: str, class_: str) -> list[float]:
    """Height of the steep side of each wedge, downwards positive."""
    found = [p for p in parsed(svg).iter(f"{SVG}path") if p.get("class") == class_]
    points = [[float(n) for n in re.findall(r"-?[\d.]+", p.get("d", ""))] for p in found]
    return [p[3] - p[1] for p in points]


@pytest.mark.parametrize("theme", ["page", "print"])
def test_wedges_stand_as_high_as_the_film_over_the_floor(theme: str) -> None:
    svg = wedge_svg(folder(), polish_reading(folder()), "bonnet & lid", theme=theme)  # type: ignore[arg-type]
    standing, hanging = wedges(svg, "wedge"), wedges(svg, "below-floor")
    assert len(standing) == 3
    assert len(hanging) == 1
    heights = sorted(-h for h in standing)
    # 30, 80 and 130 µm over the floor: the heights are as those numbers, to a tenth of a unit.
    assert heights[1] / heights[0] == pytest.approx(80 / 30, rel=0.02)
    assert heights[2] / heights[0] == pytest.approx(130 / 30, rel=0.02)
    assert hanging[0] / heights[0] == pytest.approx(20 / 30, rel=0.03)
    assert " style=" not in svg
    assert ("var(" in svg) is (theme == "page")


def test_thin_places_and_a_guess_are_told_in_words() -> None:
    shown = words(wedge_svg(folder(), polish_reading(folder()), "bonnet & lid"))
    assert "thinnest" in shown
    assert any(w.startswith("−20 ±") for w in shown)
    assert any("A guess: the floor of the panel." in w for w in shown)
    known = folder(basis="measured")
    sure = " ".join(words(wedge_svg(known, polish_reading(known), "bonnet & lid")))
    assert "guess" not in sure


def test_lines_across_are_passes_at_the_mean_rate() -> None:
    """10 µm in two passes: a line every pass or every few, said in the key."""
    shown = " ".join(words(wedge_svg(folder(), polish_reading(folder()), "bonnet & lid")))
    assert re.search(r"Lines across: (a pass|\d+ passes) at the mean rate", shown)


def test_without_a_floor_the_film_is_shown_and_no_wedge() -> None:
    bare = folder()
    bare = CarFolder(sheets={k: v for k, v in bare.sheets.items() if k != "polish_floors"})
    svg = wedge_svg(bare, polish_reading(bare), "bonnet & lid")
    assert wedges(svg, "wedge") == []
    assert sum("no floor" in w for w in words(svg)) == 4


def test_a_panel_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="one of the car's panels"):
        wedge_svg(folder(), polish_reading(folder()), "roof")


LEFT, RIGHT = "left door, rear", "right door, rear"


def gaps(*, left: tuple[float, ...] = (4, 5, 6), right: tuple[float, ...] = (4, 4, 4)) -> GapResult:
    return read_gaps(
        GapSurvey(
            edges=(
                EdgeGround(edge=LEFT, twin=RIGHT, least_mm=3, most_mm=5.5),
                EdgeGround(edge=RIGHT),
                EdgeGround(edge="lid"),
            ),
            readings=tuple(
                EdgeReading(edge=name, along_mm=300 * i, gap_mm=gap)
                for name, found in ((LEFT, left), (RIGHT, right))
                for i, gap in enumerate(found)
            ),
            instrument_u_mm={LEFT: 0.1, RIGHT: 0.1},
        )
    )


def crosses(svg: str) -> list[tuple[float, float]]:
    """Middle of each reading's cross."""
    out = []
    for p in parsed(svg).iter(f"{SVG}path"):
        if p.get("class") == "gap-reading":
            x, y, width, *_ = (float(n) for n in re.findall(r"-?[\d.]+", p.get("d", "")))
            out.append((x + width / 2, y))
    return out


def test_twins_mirror_about_the_middle() -> None:
    """Equal gaps lie equally far from the middle, and a gap of 6 half as far again as one of 4."""
    svg = edge_svg(gaps(), RIGHT)
    (x0, left0), _, (x2, left2), (_, right0), _, _ = crosses(svg)
    times = float(re.search(r"drawn (\d+) times", " ".join(words(svg))).group(1))  # type: ignore[union-attr]
    across = (x2 - x0) / 600
    assert left0 - left2 == pytest.approx(2 * across * times, abs=0.3)
    assert right0 - left0 > 2 * 4 * across * times
    assert svg == edge_svg(gaps(), LEFT)
    assert sum(p.get("class") == "twin" for p in parsed(svg).iter(f"{SVG}path")) == 2


def test_names_limits_and_figures_stand_beside_the_lines() -> None:
    shown = words(edge_svg(gaps(), LEFT))
    assert any(w.startswith(f"{LEFT}: 5.0 ±") and "run-out +2.0 ±" in w for w in shown)
    assert {"least 3", "most 5.5"} <= set(shown)


def test_one_reading_is_drawn_without_a_line() -> None:
    shown = edge_svg(gaps(left=(4,), right=()), LEFT)
    assert "readings at one place only" in shown
    assert "not read" in shown
    assert "nan" not in shown


def test_an_edge_without_readings_is_refused() -> None:
    with pytest.raises(InputError, match="an edge with readings"):
        edge_svg(gaps(), "lid")
