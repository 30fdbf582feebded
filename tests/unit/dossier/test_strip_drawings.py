"""A car of some 350 pieces drawn as it comes apart: nothing missing, nothing over another."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from benchmarks.strip_car import strip_car

from asfound.dossier.figures.strip_bands import by_group, lay_bands
from asfound.dossier.figures.strip_picture import way_svgs
from asfound.dossier.figures.strip_piece import ties_needed
from asfound.dossier.figures.strip_rails import _rails, down_the_rails, strip_rails_svg
from asfound.dossier.figures.strip_sheet import strip_sheet_svg
from asfound.plan.strip import way_to
from asfound.record.convert.strip import StripQuestion, strip_question
from asfound.record.folder import CarFolder, Sheet

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def question() -> StripQuestion:
    return strip_question(strip_car())


def full_names(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg)
    return [t.text or "" for t in root.iterfind(f".//{SVG}text/{SVG}title")]


def test_opened_every_piece_is_named_once_and_folded_every_piece_is_counted(
    question: StripQuestion,
) -> None:
    pieces = sorted(removal.name for removal in question.removals.values())
    assert len(pieces) >= 300
    assert sorted(full_names(strip_sheet_svg(question, is_open=lambda group: True))) == pieces
    folded = lay_bands(question, is_open=lambda group: False)
    assert sum(n for band in folded.bands for n in band.counts.values()) == len(pieces)
    assert full_names(strip_sheet_svg(question, is_open=lambda group: False)) == []


def test_names_do_not_lie_on_each_other_and_lines_lead_to_the_right(
    question: StripQuestion,
) -> None:
    drawn = lay_bands(question, is_open=lambda group: True)
    by_wave: dict[int, list[tuple[float, float, float]]] = {}
    for name, ends in drawn.ends.items():
        by_wave.setdefault(drawn.wave[name], []).append(ends)
    for wave, several in by_wave.items():
        middles = sorted(y for _, _, y in several)
        assert all(two - one >= 16 for one, two in pairwise(middles))
        assert max(right for _, right, _ in several) < drawn.lefts[wave + 1]
    for joint in question.assembly.joints:
        if not joint.way:
            assert drawn.ends[joint.after][1] < drawn.ends[joint.piece][0]


def test_on_rails_each_piece_stands_under_what_holds_it_and_no_rail_lies_on_another(
    question: StripQuestion,
) -> None:
    ties = ties_needed(question)
    for group, pieces in by_group(question, question.assembly.sequence).items():
        order = down_the_rails(pieces, ties)
        assert sorted(order) == sorted(pieces)
        row = {name: i for i, name in enumerate(order)}
        within = [t for t in ties if {t.first, t.after} <= set(order)]
        assert all(row[t.first] < row[t.after] for t in within)
        rails = _rails(order, within)
        assert {(r.first, a) for r in rails for a, _ in r.after} == {
            (t.first, t.after) for t in within
        }
        lanes: dict[int, list[tuple[int, int]]] = {}
        for rail in rails:
            end = max(row[a] for a, _ in rail.after)
            lanes.setdefault(rail.lane, []).append((row[rail.first], end))
        for spans in lanes.values():
            assert all(one[1] <= two[0] for one, two in pairwise(sorted(spans)))
        svg = strip_rails_svg(question, pieces, ties=ties, title=group)
        assert sorted(full_names(svg)) == sorted(question.removals[p].name for p in pieces)


def with_off(*off: str) -> StripQuestion:
    car = strip_car()
    how = car.sheet("removals")
    rows = tuple((*row, "2026-11-02" if row[0] in off else "") for row in how.rows)
    sheet = Sheet(columns=(*how.columns, "off_on"), rows=rows)
    return strip_question(CarFolder(sheets={**car.sheets, "removals": sheet}))


def test_what_is_off_is_counted_apart_and_frees_what_it_held() -> None:
    before, after = strip_question(strip_car()), with_off("boot carpet")
    assert "spare wheel" not in before.assembly.waves(before.off)[0]
    assert "spare wheel" in after.assembly.waves(after.off)[0]
    (band,) = [b for b in lay_bands(after, is_open=lambda g: False).bands if b.name == "rear end"]
    assert band.off_n == 1
    assert "boot carpet" not in band.pieces


def test_the_way_is_drawn_as_it_is_gone_whatever_comes_first_in_the_whole_car() -> None:
    """The gearbox comes off from inside where the seats are out anyway; the way is from below."""
    parts = Sheet(
        columns=("part", "significance"), rows=(("seat", "5"), ("pipe", "0"), ("box", "3"))
    )
    joints = Sheet(
        columns=("part", "comes_off_after", "way"),
        rows=(("box", "seat", "from inside"), ("box", "pipe", "from below")),
    )
    question = strip_question(CarFolder(sheets={"parts": parts, "joints": joints}))
    assert question.assembly.sequence == ("seat", "box", "pipe")
    way = way_to(question.assembly, "box")
    assert way.first_off == ("pipe",)
    for svg in way_svgs(question, way):
        assert sorted(full_names(svg)) == ["box", "pipe"]
        assert "stroke-dasharray" in svg  # the line from the pipe to the box, one way of two
