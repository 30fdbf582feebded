"""Scanning parts into places, counting, printing labels."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, add_place, move_parts_together
from asfound.record.actions.salvage import add_piece
from asfound.record.models import Part, Place

pytestmark = pytest.mark.django_db


@pytest.fixture
def box() -> Place:
    return add_place(name="box 4", kind="box", by=None)


@pytest.fixture
def two(cast: Cast) -> list[Part]:
    rows = [{"name": "hinge", "place": "shelf 1"}, {"name": "pin"}]
    return list(add_parts(car=cast.car, rows=rows, by=None))


def test_parts_and_then_a_box_are_moved(cast: Cast, box: Place, two: list[Part]) -> None:
    tags = "\n".join([two[0].tag.lower(), f"http://bench/t/{two[1].tag}/", box.tag])
    page = cast.craft.post(reverse("scan"), {"tags": tags, "key": "k"}, follow=True)
    assert b"2 parts now in box 4" in page.content
    assert set(cast.car.parts.filter(place="box 4")) == set(two)


def test_an_unknown_tag_moves_nothing(cast: Cast, box: Place, two: list[Part]) -> None:
    answer = cast.craft.post(reverse("scan"), {"tags": f"{two[0].tag}\nNOSUCH7", "place": box.tag})
    assert answer.status_code == 409
    assert b"NOSUCH7" in answer.content
    assert not cast.car.parts.filter(place="box 4").exists()


def test_a_tag_is_told_to_the_scanning_page(cast: Cast, box: Place, two: list[Part]) -> None:
    told = cast.craft.get(reverse("what-is"), {"tag": two[0].tag}).json()
    assert (told["kind"], told["place"]) == ("part", "shelf 1")
    assert cast.craft.get(reverse("what-is"), {"tag": box.tag}).json()["name"] == "box 4"
    assert cast.craft.get(reverse("what-is"), {"tag": "NOSUCH7"}).json()["kind"] == ""
    assert cast.owner.get(reverse("what-is"), {"tag": box.tag}).status_code == 403


def test_a_count_is_told_before_it_is_written(cast: Cast, box: Place, two: list[Part]) -> None:
    page = cast.craft.post(reverse("count-place", args=(box.tag,)), {"tags": two[0].tag})
    assert b"the register says shelf 1" in page.content
    two[0].refresh_from_db()
    assert two[0].place == "shelf 1"
    cast.craft.post(reverse("close-count", args=(box.tag,)), {"tags": two[0].tag, "strays": "on"})
    two[0].refresh_from_db()
    assert two[0].place == "box 4"


def test_labels_come_as_a_pdf_and_give_tags_to_bare_parts(cast: Cast) -> None:
    Part.objects.create(car=cast.car, position=9, part="P9", name="door")
    url = reverse("part-labels", args=(cast.car.slug,))
    assert b"without a tag" in cast.craft.get(url).content
    answer = cast.craft.post(url, {"paper": "roll, 62 × 29 mm", "used": "0"})
    assert answer.content.startswith(b"%PDF")
    assert Part.objects.get(part="P9").tag
    assert cast.owner.post(url, {"paper": "roll, 62 × 29 mm"}).status_code == 403


def test_a_roll_of_another_size_wants_both_sides(cast: Cast, box: Place) -> None:
    url = reverse("place-labels")
    assert cast.craft.post(url, {"paper": "other", "width_mm": "40"}).status_code == 409
    answer = cast.craft.post(url, {"paper": "other", "width_mm": "40", "height_mm": "30"})
    assert answer.content.startswith(b"%PDF")


def test_a_whole_scan_is_taken_back(cast: Cast, box: Place, two: list[Part]) -> None:
    piece = add_piece(cells={"kind": "hide", "name": "hide", "place": "loft"}, by=None)
    tags = "\n".join([*(part.tag for part in two), piece.tag, box.tag])
    page = cast.craft.post(reverse("scan"), {"tags": tags, "key": "k"}, follow=True).content
    assert b"3 parts now in box 4" in page
    assert reverse("undo-scan").encode() in page
    assert cast.head.post(reverse("undo-scan")).status_code == 404
    back = cast.craft.post(reverse("undo-scan"), follow=True).content
    assert b"3 parts lie where they lay before" in back
    assert [p.place for p in cast.car.parts.filter(part__in=[t.part for t in two])] == [
        "shelf 1",
        "",
    ]
    assert piece.rows.get(superseded_by=None).place == "loft"
    assert cast.craft.post(reverse("undo-scan")).status_code == 404


def test_a_scan_after_which_a_part_moved_on_is_left(
    cast: Cast, box: Place, two: list[Part]
) -> None:
    tags = "\n".join([*(part.tag for part in two), box.tag])
    cast.craft.post(reverse("scan"), {"tags": tags, "key": "k"})
    move_parts_together(parts=two[:1], to_place="bench", by=None)
    assert cast.craft.post(reverse("undo-scan")).status_code == 409
    assert set(cast.car.parts.filter(part__in=[t.part for t in two]).values_list("place")) == {
        ("bench",),
        ("box 4",),
    }
