"""Rows of ``purchases.csv`` become documents: rows of one supplier, kind and number are one."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from asfound.plan.money import Document, DocumentLine, Kind
from asfound.record.folder import Row

Name = tuple[str, str, str]


def name_of(row: Row) -> Name:
    """Supplier, kind and number as they are compared: without case and idle spaces."""
    supplier, kind, number = (row.text(c) for c in ("supplier", "kind", "number"))
    return plain(supplier), plain(kind), plain(number)


def plain(text: str) -> str:
    """Text without case and idle spaces."""
    return " ".join(text.split()).casefold()


def documents_of(rows: Iterable[Row]) -> tuple[Document, ...]:
    """Documents in the order of their first rows."""
    several: dict[Name, list[Row]] = {}
    for row in rows:
        several.setdefault(name_of(row), []).append(row)
    spelled: dict[str, str] = {}
    return tuple(_document(lines, spelled) for lines in several.values())


def _document(rows: list[Row], spelled: dict[str, str]) -> Document:
    """Document of its rows; a supplier is spelled as at its first."""
    head = rows[0]
    supplier = head.text("supplier")
    return Document(
        kind=Kind(head.text("kind")),
        supplier=spelled.setdefault(plain(supplier), supplier),
        number=plain(head.text("number")),
        day=head.text("dated"),
        follows=plain(head.text("follows")),
        is_last=any(row.flag("last", default=False) for row in rows),
        lines=tuple(map(_line, rows)),
    )


def _line(row: Row) -> DocumentLine:
    net = Decimal(row.text("net"))
    charged = row.text("charged_net")
    return DocumentLine(
        net=net,
        charged=Decimal(charged) if charged else net,
        percent=Decimal(row.text("tax_percent")),
        piece=row.text("subject"),
        trade=row.text("trade"),
        change=row.text("change_order"),
        what=row.text("what"),
        row=row.number_in_file,
    )
