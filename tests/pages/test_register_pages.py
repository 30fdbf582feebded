"""The register: entered at the bench, found, moved, split; places and labels."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_parts, add_place, set_sheet
from asfound.record.models import AssemblyTemplate, Car, Part, Place

pytestmark = pytest.mark.django_db


@pytest.fixture
def hinge(cast: Cast) -> Part:
    (made,) = add_parts(car=cast.car, rows=[{"name": "door hinge", "place": "box 4"}], by=None)
    return made


def url(cast: Cast, name: str, *more: str) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def test_a_part_is_entered_with_a_name_and_a_place_and_the_place_is_kept(cast: Cast) -> None:
    page = cast.craft.post(
        url(cast, "add-part"), {"name": "striker", "place": "box 4", "key": "k"}, follow=True
    ).content.decode()
    part = cast.car.parts.get(name="striker")
    assert part.tag in page
    assert 'value="box 4"' in page
    cast.craft.post(url(cast, "add-part"), {"name": "striker", "place": "box 4", "key": "k"})
    assert cast.car.parts.filter(name="striker").count() == 1


def test_a_part_without_a_name_is_asked_back(cast: Cast) -> None:
    answer = cast.craft.post(url(cast, "add-part"), {"name": " "})
    assert answer.status_code == 422
    assert not cast.car.parts.filter(place="", name="").exists()


@pytest.mark.parametrize("words", ["hinge", "box 4", "DOOR box", "0001"])
def test_a_part_is_found_by_name_place_and_number(cast: Cast, hinge: Part, words: str) -> None:
    cast.car.parts.exclude(pk=hinge.pk).delete()
    add_parts(car=cast.car, rows=[{"name": "lamp"}], by=None)
    page = cast.craft.get(url(cast, "parts"), {"q": words}).content.decode()
    assert "door hinge" in page
    assert "lamp" not in page


def test_the_list_comes_in_pages_that_keep_what_was_asked(cast: Cast) -> None:
    add_parts(car=cast.car, rows=[{"name": f"bolt {n}"} for n in range(60)], by=None)
    page = cast.craft.get(url(cast, "parts"), {"q": "bolt"}).content.decode()
    assert page.count("part-line") == 50
    assert "?q=bolt&amp;page=2" in page


def test_a_moved_part_says_where_it_was(cast: Cast, hinge: Part) -> None:
    page = cast.craft.post(
        url(cast, "move-part", hinge.part), {"to_place": "plater's shelf"}, follow=True
    ).content.decode()
    assert "plater&#x27;s shelf" in page
    assert "from box 4" in page
    assert "trimmer" in page


def test_what_two_people_change_at_once_is_not_lost(cast: Cast, hinge: Part) -> None:
    answer = cast.craft.post(
        url(cast, "edit-part", hinge.part),
        {"name": "hinge", "seen.name": "upper hinge"},
    )
    assert answer.status_code == 409
    assert b"changed meanwhile" in answer.content
    hinge.refresh_from_db()
    assert hinge.name == "door hinge"


def test_a_part_that_came_apart_leads_to_its_pieces(cast: Cast, hinge: Part) -> None:
    page = cast.head.post(
        url(cast, "end-part", hinge.part),
        {"what": "split", "names": "leaf\npin", "reason": "pin drilled out"},
        follow=True,
    ).content.decode()
    assert "This part is split" in page
    assert [part.name for part in cast.car.parts.filter(place="box 4", fate="")] == ["leaf", "pin"]
    leaf = cast.car.parts.get(name="leaf")
    assert "door hinge" in cast.head.get(url(cast, "part", leaf.part)).content.decode()


def test_a_label_opens_its_part_or_its_place(cast: Cast, hinge: Part) -> None:
    box = add_place(name="box 4", kind="box", by=None)
    assert cast.craft.get(f"/t/{hinge.tag.lower()}/").url == url(cast, "part", hinge.part)
    assert cast.craft.get(f"/t/{box.tag}/").url == reverse("place", args=(box.tag,))
    assert cast.craft.get("/t/NOSUCH7/").status_code == 404
    assert cast.stranger.get(f"/t/{hinge.tag}/").status_code == 404


def test_a_place_tells_what_is_in_it_and_goes_only_when_empty(cast: Cast, hinge: Part) -> None:
    cast.craft.post(reverse("places"), {"name": "store", "kind": "room"})
    room = Place.objects.get(name="store")
    cast.craft.post(reverse("places"), {"name": "box 4", "kind": "box", "within": room.pk})
    box = Place.objects.get(name="box 4")
    page = cast.craft.get(reverse("place", args=(box.tag,))).content.decode()
    assert "door hinge" in page
    assert "store" in page
    answer = cast.craft.post(
        reverse("put-place", args=(box.tag,)), {"what": "withdraw", "reason": "broken"}
    )
    assert answer.status_code == 409
    assert b"Move what is in it first" in answer.content


def test_places_come_in_pages_and_name_those_nobody_entered(
    cast: Cast, hinge: Part, django_assert_max_num_queries
) -> None:
    room = add_place(name="store", kind="room", within=None, note="", by=None)
    for number in range(100, 230):
        add_place(name=f"box {number}", kind="box", within=room, note="", by=None)
    with django_assert_max_num_queries(12):
        first = cast.craft.get(reverse("places")).content.decode()
    assert "1 of 2" in first
    named, unnamed = first.split("Named by parts only")
    assert named.count('class="index-line"') == 100
    assert unnamed.count('class="index-line"') == 1
    assert f'{hinge.place}</span><span class="soft">1 part<' in unnamed
    assert "box 229" in cast.craft.get(reverse("places"), {"page": 2}).content.decode()


def test_an_owner_enters_and_moves_nothing(cast: Cast, hinge: Part) -> None:
    for name in ("add-part",):
        assert cast.owner.get(url(cast, name)).status_code == 403
    move = cast.owner.post(url(cast, "move-part", hinge.part), {"to_place": "here"})
    assert move.status_code == 403
    assert cast.owner.get(reverse("places")).status_code == 403


def test_parts_come_from_a_spreadsheet_and_are_counted_on(cast: Cast, hinge: Part) -> None:
    data = b"Description;Location;weight kg\nlamp, left;shelf 2;1,5\nlamp, right;shelf 2;\n"
    file = SimpleUploadedFile("stock.csv", data)
    answer = cast.craft.post(url(cast, "load-table", "parts"), {"file": file})
    page = cast.craft.get(answer.url).content.decode()
    assert "0002" in page
    assert "Write all 2 parts" in page
    form = {"0": "", "name": "0", "place": "1", "mass_kg": "2", "step": "write", "sheet": "0"}
    cast.craft.post(answer.url, form)
    made = cast.car.parts.filter(name__startswith="lamp")
    assert [(p.part, p.place, p.mass_kg) for p in made] == [
        ("0002", "shelf 2", 1.5),
        ("0003", "shelf 2", None),
    ]
    assert cast.car.observations.filter(table="moves", subject="0002").count() == 1


def test_an_assembly_of_one_car_is_entered_for_another(cast: Cast, hinge: Part) -> None:
    add_parts(car=cast.car, rows=[{"name": "pin", "parent": hinge.part, "place": "x"}], by=None)
    cast.head.post(url(cast, "keep-assembly", hinge.part), {"name": "hinge with pin"})
    template = AssemblyTemplate.objects.get()
    page = cast.craft.post(
        url(cast, "enter-assembly"), {"template": template.pk, "place": "box 9"}, follow=True
    ).content.decode()
    assert "2 parts of door hinge are entered" in page
    new = cast.car.parts.filter(place="box 9")
    assert [(p.part, p.name, p.parent) for p in new] == [
        ("0003", "door hinge", ""),
        ("0004", "pin", "0003"),
    ]
    drop = url(cast, "drop-assembly", str(template.pk))
    assert cast.head.post(drop, {"reason": " "}).status_code == 409
    gone = cast.head.post(drop, {"reason": "the other hinge is common"}, follow=True)
    assert b"No template yet" in gone.content
    undo = reverse("undo-workshop", args=("template", template.pk))
    assert undo in gone.content.decode()
    assert cast.owner.post(undo).status_code == 403
    cast.head.post(undo)
    assert b"hinge with pin" in cast.head.get(url(cast, "enter-assembly")).content


def test_a_part_is_lent_and_comes_home_and_two_become_one(cast: Cast, hinge: Part) -> None:
    other = Car.objects.create(slug="other", marque="Invented", model="Two")
    page = cast.head.post(
        url(cast, "lend-part", hinge.part), {"to_car": other.pk, "reason": "fit"}, follow=True
    ).content.decode()
    assert reverse("parts", args=(other.slug,)) in page
    assert "Invented Two</a>: fit." in page
    cast.head.post(url(cast, "lend-part", hinge.part), {"what": "back"})
    (pin,) = add_parts(car=cast.car, rows=[{"name": "pin"}], by=None)
    wrong = {"numbers": "9999", "name": "hinge", "reason": "pressed"}
    assert cast.head.post(url(cast, "merge-part", hinge.part), wrong).status_code == 409
    cast.head.post(url(cast, "merge-part", hinge.part), {**wrong, "numbers": pin.part})
    hinge.refresh_from_db()
    assert (hinge.fate, hinge.lent_to) == ("merged", "")
    assert cast.car.parts.current().filter(name="hinge").count() == 1


def test_fixings_stand_with_the_parts_that_they_hold_together(cast: Cast, hinge: Part) -> None:
    rows = [{"name": "Door pillar"}, {"name": "bag of screws", "joint": "door hinge / Door Pillar"}]
    pillar, bag = add_parts(car=cast.car, rows=[rows[0], rows[1] | {"kind": "fixing"}], by=None)
    add_parts(car=cast.car, rows=[{"name": "other bag", "joint": "hinge pin"}], by=None)
    for held in (hinge, pillar):
        page = cast.craft.get(url(cast, "part", held.part)).content.decode()
        assert url(cast, "part", bag.part) in page
        assert "other bag" not in page
    page = cast.craft.get(url(cast, "part", bag.part)).content.decode()
    assert url(cast, "part", hinge.part) in page
    assert url(cast, "part", pillar.part) in page


def test_joints_met_while_stripping_are_offered_to_a_bag(cast: Cast, hinge: Part) -> None:
    row = {"part": hinge.part, "comes_off_after": "trim", "because": "held by it"}
    set_sheet(car=cast.car, table="joints", rows=[row], by=None)
    page = cast.craft.get(url(cast, "edit-part", hinge.part)).content.decode()
    assert f'<option value="{hinge.part} / trim">' in page


def test_a_lent_part_shows_on_both_cars_and_lending_is_undone(cast: Cast, hinge: Part) -> None:
    other = Car.objects.create(
        slug="saloon", marque="Selvany", model="Orla", built="1961", heads={}
    )
    told = {"to_car": other.pk, "reason": "to try the gap"}
    page = cast.craft.post(url(cast, "lend-part", hinge.part), told, follow=True).content.decode()
    assert reverse("parts", args=(other.slug,)) in page
    assert "to try the gap" in page
    there = cast.craft.get(reverse("parts", args=(other.slug,))).content.decode()
    assert url(cast, "part", hinge.part) in there
    assert f"belongs to {cast.car}" in there
    listed = cast.craft.get(url(cast, "parts"), {"only": "lent"}).content.decode()
    assert "door hinge" in listed
    seen = cast.owner.get(url(cast, "part", hinge.part)).content.decode()
    assert "saloon" not in seen
    assert "Selvany" not in seen
    assert "saloon" not in cast.owner.get(url(cast, "parts")).content.decode()
    entry = cast.car.entries.filter(action="change part").latest("pk")
    cast.craft.post(reverse("undo", args=(cast.car.slug, "part-change", entry.pk)))
    hinge.refresh_from_db()
    assert hinge.lent_to == ""
