"""Claims and pieces of a car as the pages show them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from asfound.desk.evidence.rows import RowLine
from asfound.dossier.figures import balance_svg, lean_svg
from asfound.record.evidence.ledger import Ledger
from asfound.record.results.colour_words import lr_figure
from asfound.record.results.evidence import DERIVED
from asfound.record.results.ledger import state_words
from asfound.weigh.evidence import Item, Weighed, WeighedItem, base_rate_warning, same_words
from asfound.weigh.ledger import STATES, Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """A part, or the finish of a panel: its state, what it rests on, and its lean."""

    name: str
    state: str
    words: str
    because: str
    lean: str
    figure: str
    written: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemLine:
    """An item of evidence with its figures and where its observations are."""

    item: str
    lr: str
    counts: str
    basis: str
    by: str
    cause: str
    note: str
    set_aside: str
    leads_to: tuple[tuple[str, str], ...]
    row: str = ""
    """Address where the row behind it is doubted or withdrawn; none where it rests on many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimBlock:
    """A weighed claim with its picture, its items and what it does not say."""

    weighed: Weighed
    figure: str
    lr: str
    items: tuple[ItemLine, ...]
    chances: tuple[tuple[str, float], ...]
    warning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareRow:
    """A state and its shares by area of finish, by part and by significance."""

    state: str
    words: str
    shares: tuple[float, ...]
    pieces_n: int


def piece_lines(pieces: Iterable[Piece], ledger: Ledger) -> list[PieceLine]:
    """Pieces with their states, those with a claim before those without."""
    ordered = sorted(pieces, key=lambda piece: piece.decided.claim is None)
    return [_piece(piece, ledger) for piece in ordered]


def _piece(piece: Piece, ledger: Ledger) -> PieceLine:
    decided = piece.decided
    words = state_words(decided.state)
    if piece.later_share < 1:
        words = f"{words}, {piece.later_share:.0%} of it"
    return PieceLine(
        name=piece.name,
        state=decided.state,
        words=words,
        because=decided.because,
        lean="" if decided.claim is None else lean_svg(decided.claim),
        figure="" if decided.claim is None else lr_figure(decided.claim.lr),
        written=ledger.written.get(piece.name, ""),
    )


def claim_blocks(
    claims: Iterable[Weighed], *, subject: str, slug: str, rows: Iterable[RowLine] = ()
) -> list[ClaimBlock]:
    """Claims on that subject, a person's items with the address of their row."""
    written = {
        (line.row.text("item"), line.row.number("lr")): line.address
        for line in rows
        if line.table == "evidence"
    }
    return [
        _claim(weighed, slug, written)
        for weighed in claims
        if same_words(weighed.claim.subject) == same_words(subject)
    ]


_Written = Mapping[tuple[str, float], str]


def _claim(weighed: Weighed, slug: str, written: _Written) -> ClaimBlock:
    return ClaimBlock(
        weighed=weighed,
        figure=balance_svg(weighed),
        lr=lr_figure(weighed.lr),
        items=tuple(_item(item, weighed.claim.subject, slug, written) for item in weighed.items),
        chances=tuple((f"{prior:g}", p) for prior, p in weighed.posterior.items()),
        warning=base_rate_warning(weighed),
    )


def _item(weighed: WeighedItem, subject: str, slug: str, written: _Written) -> ItemLine:
    item = weighed.item
    return ItemLine(
        item=item.item,
        lr=lr_figure(item.lr),
        counts="" if weighed.set_aside else lr_figure(weighed.counts_lr),
        basis=f"{item.basis}, capped" if weighed.is_capped else item.basis,
        by=DERIVED if item.derived_from else item.by,
        cause=item.cause,
        note=f"{item.note}; given “{item.given}”" if item.given else item.note,
        set_aside=weighed.set_aside,
        leads_to=tuple(_observations(item, subject, slug)),
        row=_doubted_at(item, slug) if item.derived_from else written.get((item.item, item.lr), ""),
    )


def _doubted_at(item: Item, slug: str) -> str:
    """Where the row is doubted that an item was derived from; empty where it rests on many."""
    (room,) = item.derived_from
    if not item.derived_row:
        return ""
    if room == "events":
        return reverse("statement", args=(slug, "event", item.derived_row))
    return reverse("evidence-row", args=(slug, room, item.derived_row))


def _observations(item: Item, subject: str, slug: str) -> Iterator[tuple[str, str]]:
    """Where the observations lie that an item was derived from: words and address."""
    for room in item.derived_from:
        if room == "film":
            yield "readings of the film", reverse("panel", args=(slug, subject))
        elif room == "colour":
            yield "readings of the colour", reverse("colour", args=(slug,))
        elif room == "identifiers":
            numbers = reverse("numbers", args=(slug,))
            yield "number as read", f"{numbers}#mark-{item.derived_row}"
        elif room == "events":
            asked = urlencode({"of": item.derived_row})
            yield "event", f"{reverse('history', args=(slug,))}?{asked}#of"
        elif room == "wear":
            yield "wear as measured", _doubted_at(item, slug)


def share_rows(ledger: Ledger) -> list[ShareRow]:
    """States with their shares in every count."""
    accounts = (ledger.by_area, ledger.by_part, ledger.by_significance)
    return [
        ShareRow(
            state=state,
            words=state_words(state),
            shares=tuple(account.shares[place].share for account in accounts),
            pieces_n=ledger.by_part.shares[place].pieces_n,
        )
        for place, state in enumerate(STATES)
    ]
