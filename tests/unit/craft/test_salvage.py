"""A piece held against a need: every answer with its words."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely import Polygon

from asfound.base import InputError
from asfound.craft.salvage import (
    Laid,
    Match,
    Need,
    NotLaid,
    Piece,
    lay_within,
    match_pieces,
    turns_allowed,
)

SHEET = shapely.box(0, 0, 1000, 600)


def one(need: Need, piece: Piece, *, delta: float | None = None, asked: bool = False) -> Match:
    (match,) = match_pieces(need, [piece], delta_e00={"1": delta} if asked else {})
    return match


def hide(**more: object) -> Piece:
    return Piece(**{"number": "1", "kind": "hide", "outline": SHEET, **more})  # type: ignore[arg-type]


def cushion(width: float = 400, height: float = 300, **more: object) -> Need:
    outline = shapely.box(0, 0, width, height)
    return Need(**{"kind": "hide", "outline": outline, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("need", "piece", "answer", "words"),
    [
        (cushion(), hide(), "yes", "it fits; 48.0 dm² stay free"),
        (cushion(1100, 600), hide(), "no", "too small: 66.0 dm² needed, 60.0 dm² free"),
        (cushion(1300, 100), hide(), "no", "too short: 1304 mm needed, 1166 mm at its longest"),
        (cushion(700, 650), hide(), "no", "too narrow: 650 mm needed, 600 mm wide"),
        (
            cushion(300, 900, nap_deg=0),
            hide(nap_deg=0),
            "no",
            "does not fit between edges and flaws at any of 1 turn tried",
        ),
        (cushion(300, 900, nap_deg=0), hide(nap_deg=90), "yes", "turned by 90°"),
        (
            cushion(600, 500),
            hide(defects=(shapely.box(480, 280, 520, 320),)),
            "no",
            "does not fit between edges and flaws",
        ),
        (cushion(), hide(outline=None), "not known", "its outline was not traced"),
        (cushion(), hide(taken=(shapely.box(0, 0, 900, 600),)), "no", "too small"),
    ],
)
def test_size(need: Need, piece: Piece, answer: str, words: str) -> None:
    match = one(need, piece)
    (size,) = [aspect for aspect in match.aspects if aspect.name == "size"]
    assert size.answer == answer
    assert words in size.words
    assert match.answer == answer
    assert (match.laid is not None) == (answer == "yes")


def test_a_nap_nobody_noted_is_said() -> None:
    match = one(cushion(nap_deg=0), hide())
    assert match.answer == "not known"
    assert [a.words for a in match.aspects if a.name == "nap"] == [
        "its nap or grain was not noted, so any turn was tried"
    ]


def test_nap_that_runs_both_ways_gives_half_a_turn() -> None:
    assert turns_allowed(piece_nap_deg=30, need_nap_deg=0, turn_deg=0) == (30.0,)
    both = turns_allowed(piece_nap_deg=30, need_nap_deg=0, turn_deg=0, both_ways=True)
    assert both == (30.0, -150.0)
    assert turns_allowed(piece_nap_deg=30, need_nap_deg=None, turn_deg=0) is None


def test_a_direction_is_kept_within_what_the_nap_allows() -> None:
    turns = turns_allowed(piece_nap_deg=10, need_nap_deg=350, turn_deg=12)
    assert turns is not None
    assert all(abs(math.remainder(turn - 20, 360)) <= 12 for turn in turns)
    assert {8.0, 20.0, 32.0} <= set(turns)


@pytest.mark.parametrize(
    ("asked", "made", "answer"),
    [
        ((1955, 1960), (1957, 1958), "yes"),
        ((1955, 1960), (1961, 1962), "no"),
        ((1955, 1960), (1958, 1963), "not known"),
        ((1955, 1960), (None, 1954), "no"),
        ((1955, 1960), (None, None), "not known"),
        ((None, 1960), (1950, 1960), "yes"),
        ((None, 1960), (1950, None), "not known"),
    ],
)
def test_age(asked: tuple, made: tuple, answer: str) -> None:
    match = one(Need(kind="hide", made=asked), hide(made=made))
    assert [(a.name, a.answer) for a in match.aspects] == [("age", answer)]


@pytest.mark.parametrize(
    ("most", "delta", "answer"),
    [(2.0, 1.9, "yes"), (2.0, 2.1, "no"), (2.0, None, "not known"), (None, 9.0, "yes")],
)
def test_colour(most: float | None, delta: float | None, answer: str) -> None:
    match = one(Need(kind="hide", delta_e_most=most), hide(), delta=delta, asked=True)
    assert [(a.name, a.answer) for a in match.aspects] == [("colour", answer)]


@pytest.mark.parametrize(
    ("thickness", "answer"), [(1.2, "yes"), (0.9, "no"), (1.6, "no"), (None, "not known")]
)
def test_thickness(thickness: float | None, answer: str) -> None:
    need = Need(kind="hide", thickness_least_mm=1.0, thickness_most_mm=1.5)
    match = one(need, hide(thickness_mm=thickness))
    assert [(a.name, a.answer) for a in match.aspects] == [("thickness", answer)]


def test_count() -> None:
    clips = Piece(number="1", kind="clips", count=7)
    assert one(Need(kind="clips", count=8), clips).answer == "no"
    assert one(Need(kind="clips", count=7), clips).answer == "yes"
    unknown = Piece(number="1", kind="clips")
    assert one(Need(kind="clips", count=7), unknown).answer == "not known"


def test_another_kind_is_not_held_against_it() -> None:
    assert match_pieces(cushion(), [hide(kind="cloth")], delta_e00={}) == ()


def test_a_shape_with_a_bay_lies_around_a_flaw() -> None:
    """An angle of which the bay takes the hole, where its box would not fit."""
    angle = Polygon([(0, 0), (900, 0), (900, 250), (250, 250), (250, 550), (0, 550)])
    piece = hide(defects=(shapely.box(500, 400, 600, 500),))
    laid = lay_within(angle, piece.free(), turns=[0])
    assert isinstance(laid, Laid)
    box = lay_within(shapely.box(0, 0, 900, 550), piece.free(), turns=[0])
    assert isinstance(box, NotLaid)


def test_two_halves_are_not_one_piece() -> None:
    piece = hide(taken=(shapely.box(450, -1, 550, 601),))
    assert lay_within(shapely.box(0, 0, 500, 100), piece.free(), turns=[0]) == NotLaid(
        because="turns", turns_n=1
    )


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: hide(outline=Polygon([(0, 0), (1, 1), (0, 1), (1, 0)])), "outline"),
        (lambda: hide(nap_deg=math.nan), "nap_deg"),
        (lambda: hide(count=-1), "count"),
        (lambda: cushion(turn_deg=181), "turn_deg"),
        (lambda: cushion(count=0), "count"),
        (lambda: cushion(thickness_least_mm=2, thickness_most_mm=1), "thickness_least_mm"),
    ],
)
def test_what_cannot_be_is_refused(make, field: str) -> None:
    with pytest.raises(InputError) as caught:
        make()
    assert caught.value.field == field


def test_no_more_pieces_are_laid_out_than_asked() -> None:
    stock = [
        Piece(number=str(n), kind="hide", outline=SHEET, made=(1950 + n, 1950 + n))
        for n in range(6)
    ]
    need = cushion(made=(1953, 1960))
    ranked = match_pieces(need, stock, delta_e00={}, lay_most=2)
    assert [(m.number, m.answer) for m in ranked[:3]] == [
        ("3", "yes"),
        ("4", "yes"),
        ("5", "not known"),
    ]
    words = {m.number: m.aspects[0].words for m in ranked}
    assert words["5"] == "it was not laid out: so many others answer better"


def test_what_is_too_small_at_any_turn_takes_no_turn() -> None:
    small = Piece(number="1", kind="hide", outline=shapely.box(0, 0, 900, 100))
    held = match_pieces(
        cushion(), [small, hide(number="2"), hide(number="3")], delta_e00={}, lay_most=1
    )
    assert {m.number: m.answer for m in held} == {"1": "no", "2": "yes", "3": "not known"}
