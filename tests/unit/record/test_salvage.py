"""The salvage stock: entered, corrected, reserved, used up, given back; nothing is overwritten."""

from __future__ import annotations

import pytest
import shapely

from asfound.base import InputError
from asfound.record.actions import create_account, grant_owner, release_room
from asfound.record.actions.salvage import (
    add_piece,
    correct_piece,
    move_piece,
    restore_piece,
    withdraw_piece,
)
from asfound.record.actions.salvage_photo import keep_salvage_photo
from asfound.record.actions.salvage_use import (
    give_back,
    restore_use,
    take_of_piece,
    use_reserved,
)
from asfound.record.convert.salvage import count_left, matches_of, piece_of
from asfound.record.models import Car, Entry, SalvagePiece, SalvageRow, SalvageUse
from asfound.record.reads.salvage import state_of_piece, states_of, stock
from asfound.record.reads.salvage_used import material_of
from asfound.record.reads.search import search

pytestmark = pytest.mark.django_db
SHEET = "POLYGON ((0 0, 1000 0, 1000 600, 0 600, 0 0))"
LEFT = "POLYGON ((0 0, 500 0, 500 600, 0 600, 0 0))"
HOLE = {"kind": "hole", "outline_wkt": "POLYGON ((700 200, 760 200, 760 260, 700 260, 700 200))"}
HIDE = {"kind": "hide", "name": "hide, oxblood", "outline_wkt": SHEET, "made": "1957"}


@pytest.fixture
def car() -> Car:
    return Car.objects.create(slug="one", marque="Orvelle", model="Tansy", built="1957", heads={})


def row_of(piece: SalvagePiece) -> SalvageRow:
    return SalvageRow.objects.get(piece=piece, superseded_by=None)


@pytest.fixture
def hide() -> SalvagePiece:
    return add_piece(cells=HIDE, defects=[HOLE], by=None)


def test_numbers_count_on_and_a_key_is_taken_once() -> None:
    first = add_piece(cells=HIDE, by=None, key="k")
    assert add_piece(cells=HIDE, by=None, key="k") == first
    assert add_piece(cells=HIDE, by=None).number == "S0002"
    assert first.number == "S0001"
    assert len(first.tag) == 7


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        ({"kind": " "}, "kind"),
        ({"name": ""}, "name"),
        ({"L": "30", "a": "1"}, "L"),
        ({"nap": "one way"}, "nap"),
        ({"nap_deg": "90"}, "nap"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_half_a_description_is_refused(cells: dict[str, str], field: str) -> None:
    with pytest.raises(InputError) as caught:
        add_piece(cells={**HIDE, **cells}, by=None)
    assert caught.value.field == field
    assert not SalvagePiece.objects.exists()


@pytest.mark.parametrize(
    "outline",
    [
        "POLYGON ((0 0, 1e9 0, 1e9 5, 0 0))",
        "POLYGON ((0 0, 0.1 0, 0.1 0.1, 0 0))",
        "POLYGON ((0 0, 10 10, 10 0, 0 10, 0 0))",
        "POLYGON Z ((0 0 1, 10 0 1, 10 10 1, 0 0 1))",
        "LINESTRING (0 0, 10 10)",
        "POLYGON EMPTY",
    ],
)
def test_an_outline_that_cannot_lie_in_a_workshop_is_refused(
    hide: SalvagePiece, outline: str
) -> None:
    flaw = {"kind": "hole", "outline_wkt": outline}
    for act in (
        lambda: add_piece(cells={**HIDE, "outline_wkt": outline}, by=None),
        lambda: add_piece(cells=HIDE, defects=[flaw], by=None),
        lambda: take_of_piece(piece=hide, what="used", car=None, outline_wkt=outline, by=None),
    ):
        with pytest.raises(InputError):
            act()
    assert SalvagePiece.objects.count() == 1


@pytest.mark.parametrize("name", ["rack/2", "two words", "x" * 41, "ü"])
def test_a_number_or_tag_that_no_address_takes_is_refused(name: str) -> None:
    for told in ({"number": name}, {"tag": name}):
        with pytest.raises(InputError):
            add_piece(cells=HIDE, by=None, **told)
    assert not SalvagePiece.objects.exists()


def test_a_correction_keeps_what_was_said_before(hide: SalvagePiece) -> None:
    before = row_of(hide)
    new = correct_piece(row=before, cells={"thickness_mm": "1.1"}, reason="measured", by=None)
    assert (new.thickness_mm, new.name, new.defects) == (1.1, "hide, oxblood", [HOLE])
    before.refresh_from_db()
    assert (before.superseded_by, before.reason, before.thickness_mm) == (new, "measured", None)
    with pytest.raises(InputError, match="changed meanwhile"):
        correct_piece(row=before, cells={"note": "x"}, reason="late", by=None)
    assert Entry.objects.last().action == "correct salvage piece"


def test_a_moved_piece_says_so_in_its_rows(hide: SalvagePiece) -> None:
    move_piece(row=row_of(hide), place="rack 2", by=None)
    assert [r.place for r in hide.rows.all()] == ["", "rack 2"]
    with pytest.raises(InputError):
        move_piece(row=row_of(hide), place=" ", by=None)


def test_nothing_is_deleted(hide: SalvagePiece) -> None:
    with pytest.raises(TypeError):
        row_of(hide).delete()
    with pytest.raises(TypeError):
        SalvageRow.objects.all().delete()
    with pytest.raises(TypeError):
        SalvageRow.objects.update(name="x")


def test_a_withdrawn_piece_comes_back(hide: SalvagePiece) -> None:
    with pytest.raises(InputError):
        withdraw_piece(row=row_of(hide), reason=" ", by=None)
    withdraw_piece(row=row_of(hide), reason="sold", by=None)
    assert not stock().exists()
    assert stock(only="withdrawn").get().reason == "sold"
    restore_piece(row=row_of(hide), by=None)
    assert stock().get().piece == hide
    with pytest.raises(InputError):
        restore_piece(row=row_of(hide), by=None)


def test_what_is_taken_is_no_longer_free(hide: SalvagePiece, car: Car) -> None:
    use = take_of_piece(piece=hide, what="reserved", car=car, outline_wkt=LEFT, by=None)
    free = piece_of(state_of_piece(row_of(hide))).free()
    assert free.area == pytest.approx(500 * 600 - 60 * 60)
    with pytest.raises(InputError, match="free"):
        take_of_piece(piece=hide, what="used", car=car, outline_wkt=LEFT, by=None)
    with pytest.raises(InputError, match="reserved"):
        withdraw_piece(row=row_of(hide), reason="sold", by=None)
    with pytest.raises(InputError):
        correct_piece(row=row_of(hide), cells={"outline_wkt": LEFT}, reason="again", by=None)
    with pytest.raises(InputError, match="taken already"):
        take_of_piece(piece=hide, what="used", car=car, by=None)
    used = use_reserved(use=use, part="0042", by=None)
    use.refresh_from_db()
    assert (use.superseded_by, used.what, used.part) == (used, "used", "0042")
    assert used.outline_wkt == LEFT
    with pytest.raises(InputError):
        use_reserved(use=used, by=None)
    with pytest.raises(InputError):
        give_back(use=use, reason="slip", by=None)
    give_back(use=used, reason="cut of another", by=None)
    assert piece_of(state_of_piece(row_of(hide))).free().area == pytest.approx(600_000 - 3600)


@pytest.mark.parametrize(
    "area",
    [
        "POLYGON ((600 100, 800 100, 800 400, 600 400, 600 100))",
        "POLYGON ((900 100, 1100 100, 1100 400, 900 400, 900 100))",
    ],
)
def test_nothing_is_cut_from_a_flaw_or_beside_the_piece(
    hide: SalvagePiece, car: Car, area: str
) -> None:
    with pytest.raises(InputError):
        take_of_piece(piece=hide, what="used", car=car, outline_wkt=area, by=None)
    assert not SalvageUse.objects.exists()


def test_what_was_given_back_is_taken_again_only_if_free(hide: SalvagePiece, car: Car) -> None:
    use = take_of_piece(piece=hide, what="reserved", car=car, outline_wkt=LEFT, by=None)
    give_back(use=use, reason="slip", by=None)
    other = take_of_piece(piece=hide, what="used", car=car, outline_wkt=LEFT, by=None)
    with pytest.raises(InputError):
        restore_use(use=use, by=None)
    give_back(use=other, reason="slip", by=None)
    restore_use(use=use, by=None)
    use.refresh_from_db()
    assert use.counts


def test_counted_pieces_run_out(car: Car) -> None:
    clips = add_piece(cells={"kind": "clips", "name": "hood clips", "count": "10"}, by=None)
    take_of_piece(piece=clips, what="reserved", car=car, count=4, by=None)
    use = take_of_piece(piece=clips, what="used", car=car, count=3, by=None)
    assert count_left(state_of_piece(row_of(clips))) == 3
    with pytest.raises(InputError, match="4 of 3"):
        take_of_piece(piece=clips, what="used", car=car, count=4, by=None)
    take_of_piece(piece=clips, what="used", car=car, count=3, by=None)
    assert stock().exists()
    give_back(use=use, reason="too long", by=None)
    take_of_piece(piece=clips, what="used", car=car, count=3, by=None)
    reserved = clips.uses.get(what="reserved")
    use_reserved(use=reserved, by=None)
    assert not stock().exists()
    assert stock(only="used up").get().piece == clips


def test_a_whole_piece_is_used_up(car: Car) -> None:
    glass = add_piece(cells={"kind": "glass", "name": "door glass"}, by=None)
    take_of_piece(piece=glass, what="used", car=car, by=None)
    with pytest.raises(InputError, match="taken whole"):
        take_of_piece(piece=glass, what="reserved", car=car, by=None)
    assert not stock().exists()
    assert count_left(state_of_piece(row_of(glass))) == 0


def test_the_list_is_narrowed(hide: SalvagePiece, car: Car) -> None:
    add_piece(cells={"kind": "Carpet", "name": "loop pile, grey", "place": "rack 2"}, by=None)
    assert stock(words="grey rack").get().name == "loop pile, grey"
    assert stock(kind="carpet").count() == 1
    assert not stock(only="reserved").exists()
    take_of_piece(piece=hide, what="reserved", car=car, outline_wkt=LEFT, by=None)
    assert stock(only="reserved").get().piece == hide
    assert not stock(only="cut").exists()


def test_states_of_many_pieces_take_one_query(
    hide: SalvagePiece, django_assert_num_queries
) -> None:
    for _ in range(5):
        add_piece(cells=HIDE, by=None)
    with django_assert_num_queries(2):
        assert len(states_of(stock())) == 6


def test_colours_are_told_apart_by_ciede2000(hide: SalvagePiece) -> None:
    """The pair of the published test data for CIEDE2000 with ΔE00 2.0425 stands in the words."""
    blue = {"L": "50", "a": "2.6772", "b": "-79.7751"}
    correct_piece(row=row_of(hide), cells=blue, reason="read", by=None)
    asked = {"kind": "Hide", "L": "50", "a": "0", "b": "-82.7485", "delta_e_most": "2.1"}
    (match,) = matches_of(asked, states_of(stock()))
    assert match.delta_e00 == pytest.approx(2.0425, abs=5e-5)
    assert [aspect.answer for aspect in match.aspects] == ["yes"]


def test_a_need_is_laid_beside_what_is_taken(hide: SalvagePiece, car: Car) -> None:
    take_of_piece(piece=hide, what="used", car=car, outline_wkt=LEFT, by=None)
    asked = {"kind": "hide", "outline_wkt": "POLYGON ((0 0, 400 0, 400 180, 0 180, 0 0))"}
    (match,) = matches_of(asked, states_of(stock()))
    assert match.laid is not None
    assert match.laid.placed.intersection(shapely.from_wkt(LEFT)).area < 60
    use = take_of_piece(
        piece=hide, what="reserved", car=car, outline_wkt=match.laid.placed.wkt, by=None
    )
    assert use.counts


def test_a_photograph_is_kept_once(hide: SalvagePiece) -> None:
    first = keep_salvage_photo(piece=hide, sha256="a" * 64, size=1, suffix=".jpg", by=None)
    assert keep_salvage_photo(piece=hide, sha256="a" * 64, size=1, suffix=".jpg", by=None) == first


def test_a_piece_is_found_as_it_is_now_and_by_the_workshop_alone(
    hide: SalvagePiece, car: Car
) -> None:
    head = create_account(username="head", role="head", password="walnut-veneer-41", by=None)
    owner = create_account(username="owner", role="owner", password="walnut-veneer-41", by=None)
    grant_owner(car=car, owner=owner, by=None)
    release_room(car=car, room="parts", by=None)
    for words in ("oxbl", "hide 1957", hide.number, hide.tag):
        assert [row.piece for row in search(words, by=head.user).pieces] == [hide]
        assert search(words, by=owner.user).count == 0
    row = correct_piece(row=row_of(hide), cells={"name": "tan hide"}, reason="faded", by=None)
    assert search("oxblood", by=head.user).pieces == ()
    assert search("tan", by=head.user).pieces == (row,)
    withdraw_piece(row=row, reason="sold", by=None)
    assert search("tan", by=head.user).pieces == ()
    restore_piece(row=row, by=None)
    assert search("tan", by=head.user).pieces == (row,)


def test_what_went_into_a_car_is_told_with_where_it_came_from(hide: SalvagePiece, car: Car) -> None:
    take_of_piece(piece=hide, what="used", car=car, by=None, outline_wkt=LEFT, part="seat")
    strip = "POLYGON ((500 0, 600 0, 600 600, 500 600, 500 0))"
    given = take_of_piece(
        piece=hide, what="reserved", car=car, by=None, need="piping", outline_wkt=strip
    )
    give_back(use=given, reason="not needed", by=None)
    (told,) = material_of(car)
    assert (told.number, told.made, told.much, told.part) == (hide.number, "1957", "a cut", "seat")
    assert told.what == "used"
