"""Quotes, orders and invoices of suppliers: which of them bind, and how much is still open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

Key = tuple[str, str, str]
"""Piece, trade and change order that an amount belongs to."""
_ZERO = Decimal(0)


class Kind(StrEnum):
    """What a document of a supplier is."""

    ESTIMATE = "estimate"
    QUOTE = "quote"
    ORDER = "order"
    INVOICE = "invoice"
    CREDIT = "credit note"


SIGN = {Kind.INVOICE: 1, Kind.CREDIT: -1}
"""Documents that are actual cost, and their sign."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentLine:
    """One line of a document.

    Parameters
    ----------
    net : Decimal
        What the supplier asks, without tax, in the car's currency.
    charged : Decimal
        What the owner is charged for it, without tax.
    percent : Decimal
        Rate of tax on the document [%].
    piece, trade, change : str
        What it is for; the change order it belongs to, empty for none.
    what : str
    row : int
        In the table it came from, for messages and pages.
    """

    net: Decimal
    charged: Decimal
    percent: Decimal
    piece: str
    trade: str = ""
    change: str = ""
    what: str = ""
    row: int = 0

    @property
    def key(self) -> Key:
        """What it is for."""
        return self.piece, self.trade, self.change


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A document of a supplier.

    Parameters
    ----------
    kind : Kind
    supplier, number : str
        Together its name.
    day : str
        EDTF date as written.
    follows : str
        Number of the supplier's document that it follows: an order its quote, an invoice its
        order; empty for none.
    is_last : bool
        Nothing more comes on what it follows.
    lines : tuple of DocumentLine
    """

    kind: Kind
    supplier: str
    number: str
    day: str = ""
    follows: str = ""
    is_last: bool = False
    lines: tuple[DocumentLine, ...] = ()

    @property
    def net(self) -> Decimal:
        """Sum of its lines, without tax."""
        return sum((line.net for line in self.lines), _ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A document with what of it is committed and what is actual.

    Parameters
    ----------
    document : Document
    open_net, open_charged : mapping of Key to Decimal
        What of an order is not invoiced yet; empty for every other kind.
    words : str
        How it stands, in a word or two.
    """

    document: Document
    open_net: Mapping[Key, Decimal]
    open_charged: Mapping[Key, Decimal]
    words: str


def standings(documents: Sequence[Document]) -> tuple[Standing, ...]:
    """How each document stands, in their order.

    Notes
    -----
    An estimate or a quote binds nobody: it counts for nothing until it is ordered. An order is
    committed until it is invoiced. An invoice that follows an order takes its net amounts off
    what is open, first from lines of the same piece, trade and change order, then from the rest;
    one marked as the last closes the order. So no amount is committed and actual at once. A
    credit note is actual with the opposite sign, and opens nothing again.
    """
    followed: dict[tuple[str, str], list[Document]] = {}
    for one in documents:
        if one.follows:
            followed.setdefault((one.supplier, one.follows), []).append(one)
    return tuple(_standing(one, followed.get((one.supplier, one.number), [])) for one in documents)


def _standing(one: Document, later: list[Document]) -> Standing:
    if one.kind is not Kind.ORDER:
        return Standing(document=one, open_net={}, open_charged={}, words=_words(one, later))
    invoices = [d for d in later if d.kind is Kind.INVOICE]
    open_net = {} if any(d.is_last for d in invoices) else dict(_left(one, invoices))
    charged = _sums(one, charged=True)
    whole = _sums(one)
    open_charged = {key: charged[key] * net / whole[key] for key, net in open_net.items()}
    words = "invoiced" if not open_net else "partly invoiced" if invoices else "ordered"
    return Standing(document=one, open_net=open_net, open_charged=open_charged, words=words)


def _words(one: Document, later: list[Document]) -> str:
    if one.kind in (Kind.ESTIMATE, Kind.QUOTE):
        is_ordered = any(d.kind in (Kind.ORDER, Kind.INVOICE) for d in later)
        return "ordered" if is_ordered else "not ordered"
    return "to pay" if one.kind is Kind.INVOICE else "in our favour"


def _left(order: Document, invoices: Sequence[Document]) -> Iterator[tuple[Key, Decimal]]:
    """What of an order no invoice has taken up, by what it is for."""
    left = {key: max(net, _ZERO) for key, net in _sums(order).items()}
    beyond = _ZERO
    for invoice in invoices:
        for key, net in _sums(invoice).items():
            taken = min(max(net, _ZERO), left.get(key, _ZERO))
            left[key] = left.get(key, _ZERO) - taken
            beyond += net - taken
    for key, net in left.items():
        taken = min(max(beyond, _ZERO), net)
        beyond -= taken
        if net > taken:
            yield key, net - taken


def _sums(document: Document, *, charged: bool = False) -> dict[Key, Decimal]:
    sums: dict[Key, Decimal] = {}
    for line in document.lines:
        amount = line.charged if charged else line.net
        sums[line.key] = sums.get(line.key, _ZERO) + amount
    return sums
