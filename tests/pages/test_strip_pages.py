"""The page of what comes off first, on a car of some 350 pieces."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree

import pikepdf
import pytest
from benchmarks.strip_car import strip_car
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import came_off, load_car, set_sheet, sheet_rows
from asfound.record.models import AssemblyTemplate, Car


@pytest.fixture
def large(db: None) -> Car:
    return load_car(folder=strip_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]


@pytest.fixture
def at(large: Car, cast: Cast):
    def read(query: str = "") -> str:
        answer = cast.craft.get(reverse("strip", args=(large.slug,)) + query)
        assert answer.status_code == 200
        return answer.content.decode()

    return read


def wide(page: str) -> str:
    """The drawing that stands where there is room."""
    return page.partition('class="strip-order"')[2].partition("</svg>")[0]


def test_a_large_car_is_folded_and_an_assembly_opens_and_folds_again(at) -> None:
    page = at()
    assert "348 pieces as a table" in page
    assert "engine" in wide(page)
    assert "Camshaft" not in wide(page)
    assert "?open=engine#graph" in wide(page)
    opened = at("?open=engine")
    assert "Camshaft" in wide(opened)
    assert "Crown wheel" not in wide(opened)
    assert "/strip/?#graph" in wide(opened)
    assert "Crown wheel" in wide(at("?open=all"))


def test_every_assembly_stands_as_rails_for_a_phone_and_for_paper(at) -> None:
    page = at()
    assert page.count('class="strip-rails"') == 15
    assert page.count("Camshaft") >= 2  # on its rails and in the table


def test_a_piece_is_found_by_words_and_the_way_to_it_is_shown(at) -> None:
    page = at("?to=CAMSHAFT")
    assert "To reach Camshaft" in page
    assert "and no way has less" in page
    assert "Timing chain" in page
    several = at("?to=headlamp+left")
    assert "Several are called so" in several
    assert "Headlamp rim left" in several
    assert "No piece is called “flux ring”" in at("?to=flux+ring")


def test_a_way_is_lit_in_the_drawing_of_the_whole_car(at) -> None:
    page = at("?to=camshaft&in=drawing")
    assert "In colour, the way to" in page
    assert "Crown wheel" not in wide(page)  # its assembly is not on the way
    drawn = ElementTree.fromstring(f'<svg class="strip-order"{wide(page)}</svg>')
    bold = {
        text.findtext("title") for text in drawn.iter("text") if text.get("font-weight") == "700"
    } - {None}
    alone = at("?to=camshaft").partition('id="order"')[2].partition("</ol>")[0]
    first_off = re.findall(r'<a href="\?to=[^"]+">([^<]+)</a>', alone)
    assert bold == {*first_off, "Camshaft"}
    (chosen,) = [a for a in drawn.iter("a") if a.get("data-chosen")]
    assert chosen.findtext("text/title") == "Camshaft"
    assert "Crown wheel" in wide(at("?to=camshaft&in=drawing&open=all"))


def test_on_paper_every_assembly_has_its_rails(large: Car, cast: Cast) -> None:
    answer = cast.craft.get(reverse("strip-picture", args=(large.slug, "pdf")))
    with pikepdf.open(io.BytesIO(answer.content)) as paper:
        assert 2 <= len(paper.pages) <= 12
        assert float(paper.pages[0].mediabox[2]) == pytest.approx(420 / 25.4 * 72, abs=1)


def test_what_holds_a_piece_and_what_it_frees_stand_as_words(at) -> None:
    page = at("?to=heater")
    held = page.partition("Held or hidden by")[2].partition("</ul>")[0]
    assert "Heater hoses" in held
    assert "from the engine bay" in held
    frees = page.partition("Once it is off, frees")[2].partition("</ul>")[0]
    assert "Bulkhead pad" in frees


def test_the_page_asks_the_database_the_same_few_things_for_a_large_car(
    large: Car, cast: Cast, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(40):
        cast.craft.get(reverse("strip", args=(large.slug,)))


def test_the_picture_has_every_piece(large: Car, cast: Cast) -> None:
    answer = cast.craft.get(reverse("strip-picture", args=(large.slug, "svg")))
    assert answer["Content-Type"] == "image/svg+xml"
    assert answer.content.decode().count("<title>") == 349
    assert cast.owner.get(reverse("strip", args=(large.slug,))).status_code in {403, 404}


def test_an_assembly_is_kept_as_a_template_and_offered_with_its_joints(
    large: Car, cast: Cast
) -> None:
    keep = reverse("keep-group", args=(large.slug,))
    assert cast.owner.post(keep, {"group": "left door"}).status_code in {403, 404}
    page = cast.craft.post(keep, {"group": "left door", "name": "door"}, follow=True)
    told = page.content.decode()
    assert "door is a template now, with 17 parts" in told
    template = AssemblyTemplate.objects.get()
    assert f"17 parts, {template.joints_n} joints" in told


def test_pieces_that_wait_for_each_other_are_named_and_all_else_keeps_its_order(
    large: Car, cast: Cast
) -> None:
    rows = sheet_rows(large, "joints")
    turned = {"part": "bonnet stay", "comes_off_after": "front wing left"}
    set_sheet(car=large, table="joints", rows=[*rows, turned], by=None)
    address = reverse("strip", args=(large.slug,))
    page = cast.craft.get(address).content.decode()
    assert "Pieces wait for each other" in page
    assert "bonnet stay → front wing left" in page
    number = len(rows) + 1  # the table's page numbers its rows from 1
    assert f"Doubt row {number} first" in page
    table = cast.craft.get(reverse("table", args=(large.slug, "joints"))).content.decode()
    row = table.partition(f"row </span>{number}</th>")[2].partition("</tr>")[0]
    assert re.findall(r">([^<>]+)</td>", row) == ["bonnet stay", "front wing left"]
    piece = reverse("strip-piece", args=(large.slug, "bonnet stay"))
    loosened = cast.craft.post(
        piece, {"step": "loosen", "after": "front wing left", "way": ""}, follow=True
    ).content.decode()
    large.refresh_from_db()
    assert len(sheet_rows(large, "joints")) == len(rows)
    undo = re.search(r'action="([^"]*/undo/sheet/\d+/)"', loosened)
    assert undo
    cast.craft.post(undo[1])
    large.refresh_from_db()
    assert "Rear valance" in page.partition('id="order"')[2]  # is not held by the ring
    held = cast.craft.get(address + "?to=bonnet").content.decode()
    assert "no way, for pieces before it wait for each other" in held
    assert cast.craft.get(address + "?to=rear+valance").status_code == 200
    assert len(sheet_rows(large, "joints")) == len(rows) + 1
    came_off(car=large, part="bonnet stay", off_on="2026-11-02", by=None)
    page = cast.craft.get(address).content.decode()
    assert "Pieces wait for each other" in page  # the rows still contradict each other
    assert "What is left to take apart is not touched by it" in page
    assert "To reach Bonnet" in cast.craft.get(address + "?to=bonnet").content.decode()


def test_a_piece_that_is_off_says_so_and_is_out_of_the_way(large: Car, cast: Cast) -> None:
    came_off(car=large, part="battery clamp", off_on="2026-11-02", by=None)
    address = reverse("strip", args=(large.slug,))
    assert "It is off already" in cast.craft.get(address + "?to=battery+clamp").content.decode()
    way = cast.craft.get(address + "?to=battery").content.decode()
    assert "Nothing comes off first" in way
    whole = cast.craft.get(address + "?open=engine").content.decode()
    assert "9 now, 42 in all, 1 off" in wide(whole)  # the battery takes its place
    assert "Battery clamp" not in wide(whole)
