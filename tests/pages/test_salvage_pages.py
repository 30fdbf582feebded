"""The salvage stock on its pages: entered, traced, matched, reserved, used, given back."""

from __future__ import annotations

import io
import json
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image
from tests.pages.conftest import Cast

from asfound.base import InputError
from asfound.dossier.labels import LABELS
from asfound.record.actions import add_observations, add_parts, add_place
from asfound.record.actions.need import tell_need
from asfound.record.actions.salvage import add_piece, correct_piece
from asfound.record.actions.salvage_use import take_of_piece
from asfound.record.models import Observation, SalvagePiece, SalvageRow, SalvageUse

pytestmark = pytest.mark.django_db
SHEET = "POLYGON ((0 0, 1000 0, 1000 600, 0 600, 0 0))"
HOLE = {"kind": "hole", "outline_wkt": "POLYGON ((700 200, 760 200, 760 260, 700 260, 700 200))"}
HIDE = {"kind": "hide", "name": "oxblood hide", "outline_wkt": SHEET, "made": "1957"}


@pytest.fixture
def hide(cast: Cast) -> SalvagePiece:
    return add_piece(cells={**HIDE, "place": "rack 2"}, defects=[HOLE], by=None)


def row_of(piece: SalvagePiece) -> SalvageRow:
    return SalvageRow.objects.get(piece=piece, superseded_by=None)


def need_of(cast: Cast, **cells: str) -> Observation:
    box = "POLYGON ((0 0, 600 0, 600 400, 0 400, 0 0))"
    row = {"need": "squab", "kind": "Hide", "outline_wkt": box, **cells}
    (made,) = add_observations(car=cast.car, table="needs", rows=[row], by=None)
    return made


def url(cast: Cast, name: str, *more: object) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def of(name: str, piece: SalvagePiece) -> str:
    return reverse(name, args=(piece.number,))


def text(answer: object) -> str:
    return answer.content.decode()  # type: ignore[attr-defined]


def png() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (120, 30, 30)).save(out, "PNG")
    return SimpleUploadedFile("hide.png", out.getvalue(), content_type="image/png")


def test_a_piece_is_entered_with_its_photograph_and_the_next_follows(cast: Cast) -> None:
    sent = {"kind": "hide", "name": "oxblood hide", "place": "rack 2", "key": "k"}
    size = {"width_mm": "1200", "height_mm": "800,5"}
    page = text(
        cast.craft.post(reverse("add-salvage"), {**sent, **size, "photo": png()}, follow=True)
    )
    piece = SalvagePiece.objects.get()
    assert piece.tag in page
    assert 'value="rack 2"' in page
    assert row_of(piece).outline_wkt.startswith("POLYGON ((1200 0, 1200 800.5")
    cast.craft.post(reverse("add-salvage"), {**sent, **size})
    assert SalvagePiece.objects.count() == 1
    photo = piece.photos.get()
    got = cast.craft.get(reverse("salvage-picture", args=(photo.pk, "small")))
    assert got["Content-Type"] == "image/jpeg"
    b"".join(got.streaming_content)
    assert cast.owner.get(reverse("salvage-picture", args=(photo.pk, "small"))).status_code == 403


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"kind": ""}, "required"),
        ({"width_mm": "100"}, "Give both lengths"),
        ({"width_mm": "0", "height_mm": "4"}, "must be 1 mm or more"),
        ({"made": "long ago"}, "must be a date"),
        ({"count": "-2"}, "cannot be negative"),
        ({"photo": SimpleUploadedFile("a.png", b"not a picture")}, "not a photograph"),
    ],
)
def test_what_cannot_be_kept_is_asked_back(cast: Cast, sent: dict, told: str) -> None:
    answer = cast.craft.post(reverse("add-salvage"), {"kind": "hide", "name": "x", **sent})
    assert answer.status_code == 422
    assert told in text(answer)
    assert not SalvagePiece.objects.exists()


def test_the_list_is_filtered_as_one_types_and_paged(
    cast: Cast, hide: SalvagePiece, django_assert_max_num_queries
) -> None:
    for n in range(45):
        add_piece(cells={"kind": "clips", "name": f"clip {n}", "count": "5"}, by=None)
    with django_assert_max_num_queries(10):
        page = text(cast.craft.get(reverse("salvage")))
    assert page.count("salvage-line") == 40
    assert "page=2" in page
    found = cast.craft.get(
        reverse("salvage"), {"q": "oxblood rack"}, headers={"HX-Request": "true"}
    )
    assert "1 piece " in text(found)
    assert "<html" not in text(found)
    assert "None found" in text(cast.craft.get(reverse("salvage"), {"only": "withdrawn"}))


def test_a_piece_is_described_anew_and_what_was_said_stays(cast: Cast, hide: SalvagePiece) -> None:
    row = row_of(hide)
    told = {"kind": "hide", "name": "oxblood hide", "made": "1957/1958", "seen": row.pk}
    assert cast.craft.post(of("edit-salvage", hide), {**told, "reason": ""}).status_code == 422
    half = cast.craft.post(of("edit-salvage", hide), {**told, "L": "30", "reason": "read"})
    assert "Give all of L" in text(half)
    page = text(
        cast.craft.post(of("edit-salvage", hide), {**told, "reason": "stamp found"}, follow=True)
    )
    assert "1957/1958" in page
    assert "then: stamp found" in page
    assert row_of(hide).outline_wkt == SHEET
    assert row_of(hide).place == "rack 2"
    late = cast.head.post(of("edit-salvage", hide), {**told, "reason": "late"})
    assert late.status_code == 409
    assert "changed meanwhile" in text(late)


def traced(row: SalvageRow | Observation, **more: str) -> dict[str, object]:
    """A square board of 1000 mm, 100 px wide on the photograph: ten mm a pixel."""
    return {
        "taped_px": "0,0 100,0 100,100 0,100",
        "taped_mm": "0,0 1000,0 1000,1000 0,1000",
        "trace_px": "10,20 90,20 90,80 10,80",
        "flaws_px": "hole:40,40 50,40 50,50 40,50",
        "nap_px": "50,30 50,70",
        "nap": "one way",
        "seen": row.pk,
        **more,
    }


def test_a_piece_is_traced_with_flaws_and_nap(cast: Cast, hide: SalvagePiece) -> None:
    correct_piece(row=row_of(hide), cells={"outline_wkt": ""}, defects=[], reason="w", by=None)
    row = row_of(hide)
    look = cast.craft.post(of("trace-salvage", hide), traced(row, step="look"))
    assert "800 × 600 mm" in text(look).replace("\u202f", "")
    assert "salvage-flaw" in text(look)
    answer = cast.craft.post(
        of("trace-salvage", hide), traced(row, step="keep"), headers={"HX-Request": "true"}
    )
    assert answer["HX-Redirect"] == of("salvage-piece", hide)
    now = row_of(hide)
    assert (now.nap, now.nap_deg) == ("one way", 90.0)
    assert now.outline_wkt.startswith("POLYGON ((0 0, 800 0")
    assert [d["kind"] for d in now.defects] == ["hole"]
    assert now.defects[0]["outline_wkt"].startswith("POLYGON ((300 200, 400 200")


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"taped_px": "0,0 100,0 100,100"}, "3 of at least four"),
        ({"trace_px": "10,20 90,20"}, "three or more"),
        ({"trace_px": "10,20 90,80 90,20 10,80"}, "does not cross itself"),
        ({"flaws_px": "hole:1,1 2,2"}, "three or more"),
        ({"flaws_px": "hole:1,1 x"}, "cannot be read"),
        ({"nap_px": "1,1"}, "Set two points"),
    ],
)
def test_a_trace_that_cannot_be_is_told(
    cast: Cast, hide: SalvagePiece, more: dict, told: str
) -> None:
    row = row_of(hide)
    answer = cast.craft.post(of("trace-salvage", hide), traced(row, step="keep", **more))
    assert answer.status_code == 422
    assert told in text(answer)
    assert row_of(hide) == row


def test_a_need_is_told_and_the_stock_is_held_against_it(cast: Cast, hide: SalvagePiece) -> None:
    small = {**HIDE, "name": "small hide", "outline_wkt": "POLYGON ((0 0, 300 0, 300 300, 0 0))"}
    add_piece(cells=small, by=None)
    add_piece(cells={"kind": "carpet", "name": "grey carpet"}, by=None)
    told = {
        "need": "squab",
        "kind": "hide",
        "width_mm": "600",
        "height_mm": "400",
        "made": "1950/1960",
        "key": "k",
    }
    page = cast.craft.post(url(cast, "add-need"), told, follow=True)
    need = cast.car.observations.get(table="needs")
    assert need.cells["by"] == "trimmer"
    assert "hx-get" in text(page)
    found = text(cast.craft.get(url(cast, "need-matches", need.pk)))
    assert found.index("oxblood hide") < found.index("small hide")
    assert "it fits" in found
    assert "too small" in found
    assert "made 1957, asked 1950 to 1960" in found
    assert "grey carpet" not in found
    whole = text(cast.craft.get(url(cast, "need", need.pk), {"whole": "1"}))
    assert "Reserve this cut" in whole
    again = cast.craft.post(url(cast, "add-need"), {**told, "key": "k2"})
    assert "has a need of this name already" in text(again)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"kind": ""}, "required"),
        ({"thickness_least_mm": "2", "thickness_most_mm": "1"}, "It must be 2 mm or more"),
        ({"delta_e_most": "2"}, "Give the colour"),
        ({"turn_deg": "5"}, "Give the direction"),
        ({"part": "0999"}, "no part of this number"),
        ({"turn_deg": "200", "nap_deg": "0"}, "must be 180"),
    ],
)
def test_a_need_that_cannot_be_is_asked_back(cast: Cast, more: dict, told: str) -> None:
    answer = cast.craft.post(url(cast, "add-need"), {"need": "x", "kind": "hide", **more})
    assert answer.status_code == 422
    assert told in text(answer)


def test_a_cut_is_reserved_used_and_given_back(cast: Cast, hide: SalvagePiece) -> None:
    need = need_of(cast)
    (line,) = next(
        lines
        for words, lines in cast.craft.get(url(cast, "need-matches", need.pk)).context["groups"]
        if words == "They serve"
    )
    sent = {"what": "reserved", "car": cast.car.slug, "need": "squab"}
    cut = {**sent, "outline_wkt": line.outline_wkt}
    page = text(cast.craft.post(of("take-salvage", hide), cut, follow=True))
    assert "a cut is reserved for Orvelle Tansy" in page
    assert "salvage-reserved" in page
    twice = cast.head.post(of("take-salvage", hide), cut)
    assert twice.status_code == 409
    assert "somebody may have taken it meanwhile" in text(twice)
    assert hide.number in text(cast.craft.get(url(cast, "needs")))
    assert "reserved" in text(cast.craft.get(reverse("salvage-needs")))
    use = SalvageUse.objects.get()
    cast.craft.post(reverse("end-salvage-use", args=(use.pk,)), {"step": "use"})
    used = SalvageUse.objects.current().get()
    assert used.what == "used"
    end = reverse("end-salvage-use", args=(used.pk,))
    assert cast.craft.post(end, {"step": "back", "reason": " "}).status_code == 409
    back = text(cast.craft.post(end, {"step": "back", "reason": "slip of the knife"}, follow=True))
    assert "given back: slip of the knife" in back
    undo = reverse("undo-workshop", args=("salvage-use", used.pk))
    assert undo in back
    cast.craft.post(undo)
    assert SalvageUse.objects.current().get().what == "used"


def test_counted_pieces_are_reserved_by_number(cast: Cast) -> None:
    clips = add_piece(cells={"kind": "clips", "name": "hood clips", "count": "6"}, by=None)
    need = need_of(cast, kind="clips", outline_wkt="", count="4")
    assert "6 left, 4 needed" in text(cast.craft.get(url(cast, "need-matches", need.pk)))
    cast.craft.post(of("take-salvage", clips), {"what": "used", "count": "4"})
    assert "2 left, 4 needed" in text(cast.craft.get(url(cast, "need-matches", need.pk)))
    too_many = cast.craft.post(of("take-salvage", clips), {"what": "used", "count": "3"})
    assert too_many.status_code == 409


def test_a_piece_tells_what_it_serves(cast: Cast, hide: SalvagePiece) -> None:
    need_of(cast)
    need_of(cast, need="roof", outline_wkt="POLYGON ((0 0, 2000 0, 2000 1500, 0 0))")
    page = text(cast.craft.get(of("salvage-serves", hide)))
    assert page.index("squab") < page.index("roof")
    assert "it serves" in page
    assert "it does not serve" in page


def test_a_need_is_corrected_and_withdrawn(cast: Cast) -> None:
    need = need_of(cast, made="1957")
    told = {"need": "squab", "kind": "hide", "note": "left", "reason": "measured"}
    cast.craft.post(url(cast, "correct-need", need.pk), told)
    now = cast.car.observations.current().get(table="needs")
    assert (now.cells["note"], now.cells["made"]) == ("left", "")
    assert now.cells["outline_wkt"].startswith("POLYGON ((0 0, 600 0")
    assert cast.craft.get(url(cast, "need", need.pk)).url == url(cast, "need", now.pk)
    cast.craft.post(url(cast, "withdraw-need", now.pk), {"reason": "found the old one"})
    assert cast.craft.get(url(cast, "need", now.pk)).status_code == 404
    cast.craft.post(url(cast, "add-need"), {"need": "squab", "kind": "hide", "key": "again"})
    undo = url(cast, "undo", "observation", now.pk)
    assert cast.craft.post(undo).status_code == 409, "another need has its name since"
    with pytest.raises(InputError):
        tell_need(car=cast.car, cells={"need": "squab", "kind": "hide"}, by=None)


def test_a_need_is_traced_over_its_old_piece(cast: Cast) -> None:
    need = need_of(cast, made="1957")
    sent = {**traced(row=need, flaws_px=""), "step": "keep"}
    answer = cast.craft.post(url(cast, "trace-need", need.pk), sent)
    now = cast.car.observations.current().get(table="needs")
    assert answer.url == url(cast, "need", now.pk)
    assert now.cells["outline_wkt"].startswith("POLYGON ((0 0, 800 0, 800 600")
    assert (now.cells["nap_deg"], now.cells["made"]) == ("90", "1957")
    wrong = cast.craft.post(url(cast, "trace-need", now.pk), {**sent, "trace_px": "1,1 2,2"})
    assert wrong.status_code == 422


def test_a_need_of_a_folder_that_asks_what_cannot_be_is_told(
    cast: Cast, hide: SalvagePiece
) -> None:
    need = need_of(cast, thickness_least_mm="3", thickness_most_mm="1")
    assert "Correct the need" in text(cast.craft.get(url(cast, "need-matches", need.pk)))
    assert cast.craft.get(of("salvage-serves", hide)).status_code == 200


def test_a_withdrawn_piece_is_taken_back(cast: Cast, hide: SalvagePiece) -> None:
    page = text(cast.craft.post(of("withdraw-salvage", hide), {"reason": "sold"}, follow=True))
    assert "Offered no longer" in page
    undo = reverse("undo-workshop", args=("salvage-piece", row_of(hide).pk))
    assert undo in page
    assert "offered again" in text(cast.craft.post(undo, follow=True))
    assert row_of(hide).withdrawn_at is None


def test_a_withdrawn_photograph_is_taken_back(cast: Cast, hide: SalvagePiece) -> None:
    cast.craft.post(of("add-salvage-photo", hide), {"photo": png()})
    photo = hide.photos.get()
    gone = reverse("withdraw-salvage-photo", args=(photo.pk,))
    cast.craft.post(gone, {"reason": "blurred"})
    picture = reverse("salvage-picture", args=(photo.pk, "small"))
    assert cast.craft.get(picture).status_code == 404
    cast.craft.post(reverse("undo-workshop", args=("salvage-photo", photo.pk)))
    shown = cast.craft.get(picture)
    assert shown.status_code == 200
    b"".join(shown.streaming_content)
    wrong = SimpleUploadedFile("a.png", b"x")
    page = cast.craft.post(of("add-salvage-photo", hide), {"photo": wrong}, follow=True)
    assert "not a photograph" in text(page)


def test_its_label_opens_it_and_scanning_moves_it(cast: Cast, hide: SalvagePiece) -> None:
    box = add_place(name="shelf 7", kind="shelf", by=None)
    assert cast.craft.get(f"/t/{hide.tag.lower()}/").url == of("salvage-piece", hide)
    assert cast.owner.get(f"/t/{hide.tag}/").status_code == 404
    told = cast.craft.get(reverse("what-is"), {"tag": hide.tag}).json()
    assert (told["name"], told["place"]) == (f"{hide.number} oxblood hide", "rack 2")
    cast.craft.post(reverse("scan"), {"tags": f"{hide.tag}\n{box.tag}", "key": "s"})
    assert row_of(hide).place == "shelf 7"
    page = text(cast.craft.get(reverse("place", args=(box.tag,))))
    assert "oxblood hide" in page
    counted = cast.craft.post(reverse("count-place", args=(box.tag,)), {"tags": "NOSUCH7"})
    assert "salvage stock" in text(counted)
    labels = cast.craft.post(reverse("salvage-labels"), {"paper": next(iter(LABELS)), "q": "oxb"})
    assert labels.content.startswith(b"%PDF-")
    full = cast.craft.post(
        reverse("put-place", args=(box.tag,)), {"what": "withdraw", "reason": "x"}
    )
    assert full.status_code == 409
    cast.craft.post(of("move-salvage", hide), {"place": "rack 1"})
    assert row_of(hide).place == "rack 1"


def test_the_stock_goes_out_and_comes_back_equal(cast: Cast, hide: SalvagePiece) -> None:
    part = add_parts(car=cast.car, rows=[{"name": "squab"}], by=None)[0]
    cut = "POLYGON ((0 0, 200 0, 200 200, 0 200, 0 0))"
    take_of_piece(
        piece=hide,
        what="used",
        car=cast.car,
        need="squab",
        part=part.part,
        outline_wkt=cut,
        by=None,
    )
    add_piece(cells={"kind": "clips", "name": "clips, brass", "count": "9"}, by=None)
    tables = {n: text(cast.craft.get(reverse("salvage-csv", args=(n,)))) for n in NAMES}
    data = cast.craft.get(reverse("salvage-zip")).content
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        package = json.loads(archive.read("datapackage.json"))
        for name in NAMES:
            assert archive.read(f"{name.replace('-', '_')}.csv").decode() == tables[name]
    assert next(r["path"] for r in package["resources"]) == "salvage.csv"
    taken = cast.craft.post(
        reverse("load-salvage"), {"file": SimpleUploadedFile("salvage.zip", data)}
    )
    assert "the stock has a piece of this number" in text(taken)
    before = {n: t.replace("S000", "T000") for n, t in tables.items()}
    for piece in SalvagePiece.objects.all():
        before = {n: t.replace(piece.tag, "") for n, t in before.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, table in before.items():
            archive.writestr(f"{name.replace('-', '_')}.csv", table)
    sent = SimpleUploadedFile("salvage.zip", out.getvalue())
    assert cast.craft.post(reverse("load-salvage"), {"file": sent}).status_code == 302
    copy = row_of(SalvagePiece.objects.get(number="T0001"))
    assert (copy.outline_wkt, copy.defects, copy.made) == (SHEET, [HOLE], "1957")
    use = SalvageUse.objects.get(piece=copy.piece)
    assert (use.what, use.need, use.part, use.outline_wkt) == ("used", "squab", part.part, cut)


STOCK_PAGES = ("salvage", "add-salvage", "salvage-needs", "load-salvage", "salvage-labels")
NAMES = ("salvage", "salvage-defects", "salvage-uses")


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("a.csv", b"kind,name,made\nhide,x,1957\nhide,y,soon\n", "must be a date"),
        ("a.csv", b"kind\nhide\n", "the column name is missing"),
        ("a.csv", b"kind,name,L\nhide,x,40\n", "told with all of L, a and b"),
        ("a.csv", b"number,kind,name\n1,hide,x\n1,hide,y\n", "must be unique"),
        ("a.csv", b"number,kind,name\nrack/2,hide,x\n", "without spaces"),
        ("a.csv", b"kind,name,count\nclips,x,99999999999\n", "must be 1"),
        ("a.zip", b"PK\x03\x04broken", "not a zip file"),
    ],
)
def test_a_table_with_a_fault_is_taken_no_part_of(
    cast: Cast, name: str, data: bytes, told: str
) -> None:
    answer = cast.craft.post(reverse("load-salvage"), {"file": SimpleUploadedFile(name, data)})
    assert answer.status_code == 422
    assert told in text(answer)
    assert not SalvagePiece.objects.exists()


def test_a_list_of_ones_own_is_taken_in(cast: Cast) -> None:
    data = b"kind;name;thickness_mm\nhide;green hide;1,2\nhide;red hide;\n"
    answer = cast.craft.post(
        reverse("load-salvage"), {"file": SimpleUploadedFile("own.csv", data)}, follow=True
    )
    assert "2 pieces entered" in text(answer)
    assert [r.thickness_mm for r in SalvageRow.objects.order_by("pk")] == [1.2, None]


def test_the_stock_is_the_workshops_alone(cast: Cast, hide: SalvagePiece) -> None:
    need = need_of(cast)
    use = take_of_piece(
        piece=hide, what="reserved", car=None, outline_wkt=SHEET.replace("1000", "100"), by=None
    )
    pages = [
        *(reverse(n) for n in STOCK_PAGES),
        *(of(n, hide) for n in ("salvage-piece", "salvage-serves", "edit-salvage")),
        of("trace-salvage", hide),
        reverse("salvage-zip"),
        reverse("salvage-csv", args=("salvage",)),
    ]
    for page in pages:
        assert [c.get(page).status_code for c in (cast.head, cast.craft)] == [200, 200], page
        assert [c.get(page).status_code for c in (cast.owner, cast.stranger)] == [403, 403], page
        assert cast.nobody.get(page).status_code == 302
    posts = [of(n, hide) for n in ("edit-salvage", "move-salvage", "withdraw-salvage")]
    posts += [of("take-salvage", hide), of("add-salvage-photo", hide), of("trace-salvage", hide)]
    posts += [reverse("add-salvage"), reverse("end-salvage-use", args=(use.pk,))]
    posts += [reverse("undo-workshop", args=("salvage-piece", row_of(hide).pk))]
    for page in posts:
        assert [c.post(page, {}).status_code for c in (cast.owner, cast.stranger)] == [403, 403]
    assert row_of(hide).withdrawn_at is None
    of_car = [url(cast, n) for n in ("needs", "add-need", "needs-csv")]
    of_car += [
        url(cast, n, need.pk) for n in ("need", "need-matches", "correct-need", "trace-need")
    ]
    for page in of_car:
        assert [c.get(page).status_code for c in (cast.head, cast.craft)] == [200, 200], page
        assert cast.owner.get(page).status_code == 403, page
        assert cast.stranger.get(page).status_code == 404, page
        assert cast.nobody.get(page).status_code == 302
    for name in ("correct-need", "withdraw-need"):
        assert cast.owner.post(url(cast, name, need.pk), {}).status_code == 403
        assert cast.stranger.post(url(cast, name, need.pk), {}).status_code == 404


@pytest.mark.parametrize("name", ["salvage-piece", "edit-salvage", "trace-salvage"])
def test_a_piece_that_is_not_there_is_not_found(cast: Cast, name: str) -> None:
    assert cast.craft.get(reverse(name, args=("S9999",))).status_code == 404
    assert cast.craft.get(reverse("salvage-csv", args=("cellar",))).status_code == 404
