"""The drawings of what comes off before what, as the page has room for them."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from asfound.dossier.figures.strip_bands import by_group
from asfound.dossier.figures.strip_order import strip_svg
from asfound.dossier.figures.strip_picture import NAMES_AT_ONCE
from asfound.dossier.figures.strip_piece import ties_needed
from asfound.dossier.figures.strip_rails import strip_rails_svg
from asfound.dossier.figures.strip_sheet import strip_sheet_svg
from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion

ALL = "all"
DRAWING = "drawing"
"""Where a way is lit, beside a page of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """One assembly as a phone and paper show it."""

    name: str
    pieces_n: int
    now_n: int
    off_n: int
    rails: str
    is_open: bool


def whole_drawing(
    question: StripQuestion, *, slug: str, opened: Collection[str], way: Way | None = None
) -> str:
    """The whole car, a way in it lit; a large one with the assemblies open that were asked for."""
    if len(question.assembly.pieces) <= NAMES_AT_ONCE:
        return strip_svg(question, way=way, address=address_in(slug))
    lit = {"to": way.piece, "in": DRAWING} if way else {}

    def fold(group: str) -> str:
        rest = [one for one in _opened_now(question, opened) if one != group]
        asked = rest if group in _opened_now(question, opened) else [*rest, group]
        query = urlencode({**lit, "open": asked}, doseq=True)
        return f"{reverse('strip', args=(slug,))}?{query}#graph"

    return strip_sheet_svg(
        question,
        is_open=lambda group: group in opened or ALL in opened,
        address=address_in(slug),
        fold=fold,
        way=way,
    )


def _opened_now(question: StripQuestion, opened: Collection[str]) -> list[str]:
    groups = dict.fromkeys(question.groups.values())
    return [group for group in groups if group in opened or ALL in opened]


def groups_drawn(question: StripQuestion, *, slug: str, way: Way | None = None) -> list[Group]:
    """Every assembly as rails, a way in them lit."""
    lit = {way.piece, *way.first_off} if way else set[str]()
    is_small = len(question.assembly.pieces) <= NAMES_AT_ONCE
    now = set(next(iter(question.waves), ()))
    ties = ties_needed(question)
    return [
        Group(
            name=name,
            pieces_n=len(pieces),
            now_n=len(now.intersection(pieces)),
            off_n=sum(question.groups[n] == name for n in question.off),
            rails=strip_rails_svg(
                question,
                pieces,
                ties=ties,
                address=address_in(slug),
                title=f"{name}: what comes off first",
                aim=way.piece if way else "",
                lit=lit,
            ),
            is_open=is_small or not lit.isdisjoint(pieces),
        )
        for name, pieces in by_group(question, question.left).items()
    ]


def address_in(slug: str) -> Callable[[str], str]:
    """Gives the address of the way to a piece."""
    page = reverse("strip", args=(slug,))
    return lambda part: f"{page}?{urlencode({'to': part})}"
