"""Which panel and part a piece is, said on its page: by the workshop, out of what the car has."""

from __future__ import annotations

from tests.pages.conftest import Cast
from tests.pages.test_variants_and_proposals import at, send, sign, text_of

from asfound.record.actions import add_parts
from asfound.record.actions.reopen import signed_piece
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Entry

MARKED = "Another panel leads to its own page."


def say(cast: Cast, who: str = "head", piece: str = "door finish", **said: str):
    return getattr(cast, who).post(at(cast, "piece-on-car", piece), said)


def on_car(cast: Cast, piece: str) -> tuple[str, str]:
    """Panel and part of the piece, as the folder of the car tells them."""
    rows = folder_of(Car.objects.get(pk=cast.car.pk)).sheet("subjects")
    (row,) = [row for row in rows if row.text("subject") == piece]
    return row.text("panel"), row.text("part")


def test_a_piece_is_a_panel_of_the_car_and_findings_and_the_sheet_follow(cast: Cast) -> None:
    page = cast.head.get(at(cast, "piece", "door finish"))
    assert MARKED not in text_of(page)
    offered = [name for name, _ in page.context["on_car"].fields["panel"].choices]
    assert offered == ["", "bonnet", "door left", "scuttle"]
    send(cast)
    sign(cast)
    assert signed_piece(cast.car, "door left") == ""
    assert say(cast, panel="door left").status_code == 302
    assert on_car(cast, "door finish") == ("door left", "")
    assert signed_piece(cast.car, "door left") == "door finish"
    page = text_of(cast.owner.get(at(cast, "piece", "door finish")))
    assert MARKED in page
    assert "It is panel door left" in page
    assert "Keep where it is" not in page


def test_each_change_stands_in_the_log_and_one_that_changes_nothing_does_not(cast: Cast) -> None:
    (seat,) = add_parts(car=cast.car, rows=[{"name": "front seat"}], by=None)
    for said in ({"part": seat.part}, {"part": seat.part}, {"part": ""}):
        assert say(cast, "craft", piece="seats", **said).status_code == 302
    told = Entry.objects.filter(action="set piece on the car").order_by("pk")
    assert [(one.before["part"], one.after["part"]) for one in told] == [
        ("", seat.part),
        (seat.part, ""),
    ]
    assert on_car(cast, "seats") == ("", "")


def test_what_the_car_lacks_and_who_only_reads_are_refused(cast: Cast) -> None:
    for said in ({"panel": "tail"}, {"part": "P-0999"}):
        refused = cast.head.post(at(cast, "piece-on-car", "door finish"), said, follow=True)
        assert "Nothing was changed" in text_of(refused)
    missing = cast.head.post(at(cast, "piece-on-car", "gearbox"), {"panel": "bonnet"})
    assert missing.status_code == 302
    assert say(cast, "owner", panel="bonnet").status_code == 403
    assert say(cast, "stranger", panel="bonnet").status_code == 404
    assert not Entry.objects.filter(action="set piece on the car").exists()
