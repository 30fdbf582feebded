"""Pieces of the stock held against a need, ranked, with the reasons in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from asfound.craft.salvage.laying import Laid, NotLaid, lay_within, turns_allowed
from asfound.craft.salvage.piece import Need, Piece, Years

Answer = Literal["yes", "no", "not known"]
LAY_MOST = 40
"""Pieces that an outline is laid out on: each may take a good part of a second."""
ORDER = (
    "Pieces with the fewest reasons against stand first, then those of which least is not known, "
    "then the nearest colour, then those of which least is left over."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Aspect:
    """One thing that was asked of a piece, and the answer."""

    name: Literal["size", "nap", "colour", "age", "thickness", "count"]
    answer: Answer
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A piece held against a need.

    Parameters
    ----------
    number : str
        Of the piece.
    aspects : tuple of Aspect
        Only what was asked.
    laid : Laid or None
        Where the outline lies on the piece.
    delta_e00 : float or None
    left_mm2 : float or None
        What stays free of the piece after the cut; ``None`` where nothing is cut.
    """

    number: str
    aspects: tuple[Aspect, ...]
    laid: Laid | None = None
    delta_e00: float | None = None
    left_mm2: float | None = None

    @property
    def answer(self) -> Answer:
        """``no`` where anything speaks against it, ``yes`` where everything asked holds."""
        answers = {aspect.answer for aspect in self.aspects}
        return "no" if "no" in answers else "not known" if "not known" in answers else "yes"


def match_pieces(
    need: Need,
    pieces: Iterable[Piece],
    *,
    delta_e00: Mapping[str, float | None],
    lay_most: int = LAY_MOST,
) -> tuple[Match, ...]:
    """Pieces of the kind needed, the best first; see ``ORDER``.

    Parameters
    ----------
    need : Need
    pieces : iterable of Piece
        Those of another kind are left out.
    delta_e00 : mapping of str to float or None
        CIEDE2000 between the colour asked and each piece, by its number; ``None``, or no entry,
        where a colour was not read. Empty where no colour is asked.
    lay_most : int
        How many pieces the outline is laid out on at most, those first that answer best in all
        but size; that of the others is not known. Pieces that are too small, too short or too
        narrow at any turn do not count among them.

    Examples
    --------
    >>> carpets = [Piece(number="1", kind="carpet", made=(1958, 1958)),
    ...            Piece(number="2", kind="carpet", made=(1971, 1971))]
    >>> [(m.number, m.answer) for m in match_pieces(
    ...     Need(kind="carpet", made=(1955, 1960)), carpets, delta_e00={})]
    [('1', 'yes'), ('2', 'no')]
    """
    held = {piece.number: piece for piece in pieces if piece.kind == need.kind}
    apart = sorted((_apart_from_size(need, piece, delta_e00) for piece in held.values()), key=_rank)
    found, left_n = list[Match](), lay_most
    for match in apart:
        piece = held[match.number]
        laid = _laid(need, piece) if left_n > 0 else None
        if isinstance(laid, Laid) or (isinstance(laid, NotLaid) and laid.because == "turns"):
            left_n -= 1
        found.append(_with_size(match, need, piece, laid))
    return tuple(sorted(found, key=_rank))


def _rank(match: Match) -> tuple[int, int, float, float, str]:
    answers = [aspect.answer for aspect in match.aspects]
    return (
        answers.count("no"),
        answers.count("not known"),
        math.inf if match.delta_e00 is None else match.delta_e00,
        math.inf if match.left_mm2 is None else match.left_mm2,
        match.number,
    )


def _apart_from_size(need: Need, piece: Piece, colours: Mapping[str, float | None]) -> Match:
    delta = colours.get(piece.number)
    aspects = (
        *_nap(need, piece),
        *(_colour(need, delta) if colours else ()),
        *_age(need.made, piece.made),
        *_thickness(need, piece),
        *_count(need, piece),
    )
    return Match(number=piece.number, aspects=aspects, delta_e00=delta)


def _with_size(match: Match, need: Need, piece: Piece, laid: Laid | NotLaid | None) -> Match:
    cut = laid if isinstance(laid, Laid) else None
    left = None if cut is None else piece.free().area - cut.placed.area
    size = tuple(_size(need, piece, laid))
    return replace(match, aspects=(*size, *match.aspects), laid=cut, left_mm2=left)


def _laid(need: Need, piece: Piece) -> Laid | NotLaid | None:
    if need.outline is None or piece.outline is None:
        return None
    turns = turns_allowed(
        piece_nap_deg=piece.nap_deg,
        need_nap_deg=need.nap_deg,
        turn_deg=need.turn_deg,
        both_ways=piece.both_ways,
    )
    return lay_within(need.outline, piece.free(), turns=turns)


def _size(need: Need, piece: Piece, laid: Laid | NotLaid | None) -> Iterator[Aspect]:
    if need.outline is None:
        return
    if laid is None:
        untried = "it was not laid out: so many others answer better"
        words = "its outline was not traced" if piece.outline is None else untried
        yield Aspect(name="size", answer="not known", words=words)
    elif isinstance(laid, Laid):
        left = piece.free().area - laid.placed.area
        turned = f", turned by {laid.turn_deg:.0f}°" if round(laid.turn_deg) else ""
        words = f"it fits{turned}; {_dm2(left)} stay free"
        yield Aspect(name="size", answer="yes", words=words)
    else:
        yield Aspect(name="size", answer="no", words=_why_not(laid))


def _why_not(refused: NotLaid) -> str:
    needs, has = refused.needs, refused.has
    if refused.because == "area":
        return f"too small: {_dm2(needs)} needed, {_dm2(has)} free in one piece"
    if refused.because == "length":
        return f"too short: {needs:.0f} mm needed, {has:.0f} mm at its longest"
    if refused.because == "width":
        return f"too narrow: {needs:.0f} mm needed, {has:.0f} mm wide"
    n = refused.turns_n
    return f"it does not fit between edges and flaws at any of {n} turn{'s' if n > 1 else ''} tried"


def _nap(need: Need, piece: Piece) -> Iterator[Aspect]:
    if need.nap_deg is None or need.outline is None or piece.outline is None:
        return
    if piece.nap_deg is None:
        words = "its nap or grain was not noted, so any turn was tried"
        yield Aspect(name="nap", answer="not known", words=words)


def _colour(need: Need, delta: float | None) -> Iterator[Aspect]:
    if delta is None:
        yield Aspect(name="colour", answer="not known", words="its colour was not read")
        return
    most = need.delta_e_most
    words = f"colour ΔE00 {delta:.1f} away"
    if most is None:
        yield Aspect(name="colour", answer="yes", words=f"{words}; no limit was set")
        return
    answer: Answer = "yes" if delta <= most else "no"
    yield Aspect(name="colour", answer=answer, words=f"{words}, {most:g} allowed")


def _age(asked: Years, made: Years) -> Iterator[Aspect]:
    if asked == (None, None):
        return
    if made == (None, None):
        yield Aspect(name="age", answer="not known", words="its age is not known")
        return
    words = f"made {_years(made)}, asked {_years(asked)}"
    if _is_within(made, asked):
        yield Aspect(name="age", answer="yes", words=words)
    elif _lowest(made) > _highest(asked) or _highest(made) < _lowest(asked):
        yield Aspect(name="age", answer="no", words=words)
    else:
        yield Aspect(name="age", answer="not known", words=f"{words}: it may be of those years")


def _is_within(made: Years, asked: Years) -> bool:
    return _lowest(made) >= _lowest(asked) and _highest(made) <= _highest(asked)


def _lowest(years: Years) -> float:
    return -math.inf if years[0] is None else years[0]


def _highest(years: Years) -> float:
    return math.inf if years[1] is None else years[1]


def _thickness(need: Need, piece: Piece) -> Iterator[Aspect]:
    least, most = need.thickness_least_mm, need.thickness_most_mm
    if least is None and most is None:
        return
    if piece.thickness_mm is None:
        yield Aspect(name="thickness", answer="not known", words="its thickness was not measured")
        return
    low, high = (0.0 if least is None else least), (math.inf if most is None else most)
    answer: Answer = "yes" if low <= piece.thickness_mm <= high else "no"
    asked = f"{low:g} mm or more" if math.isinf(high) else f"{low:g} to {high:g} mm"
    words = f"{piece.thickness_mm:g} mm thick, asked {asked}"
    yield Aspect(name="thickness", answer=answer, words=words)


def _count(need: Need, piece: Piece) -> Iterator[Aspect]:
    if piece.count is None:
        if need.outline is None and need.count > 1:
            yield Aspect(name="count", answer="not known", words="nobody counted them")
        return
    answer: Answer = "yes" if piece.count >= need.count else "no"
    yield Aspect(name="count", answer=answer, words=f"{piece.count} left, {need.count} needed")


def _years(years: Years) -> str:
    first, last = years
    if first == last:
        return str(first)
    if first is None:
        return f"until {last}"
    return f"from {first}" if last is None else f"{first} to {last}"


def _dm2(area_mm2: float) -> str:
    return f"{area_mm2 / 10_000:.1f} dm²"
