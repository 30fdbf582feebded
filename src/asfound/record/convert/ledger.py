"""The workshop's rules for states, and the parts and panels that they are held to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

import shapely
from shapely import Polygon

from asfound.measure.film import FilmReading, PanelReading
from asfound.record.convert.film import panels_of
from asfound.record.folder import CarFolder, Row
from asfound.weigh.evidence import Weighed, same_words
from asfound.weigh.ledger import SUPPLIED, Decided, Piece, StateRule, decide

UNRATED = 1.0
"""Significance of a part that nobody rated."""
LIKELY = 0.5
"""From this probability an outlined area counts as later work."""


def state_rules_of(car: CarFolder) -> tuple[StateRule, ...]:
    """Rules of the workshop by their order; those supplied where it has none."""
    rows = sorted(car.sheet("state_rules"), key=lambda row: row.number("order"))
    return tuple(_rule(row) for row in rows) or SUPPLIED


def _rule(row: Row) -> StateRule:
    return StateRule(
        statement=same_words(row.text("statement")),
        favours=row.text("favours"),  # type: ignore[arg-type]  # checked on reading
        least_lr=row.number("least_lr"),
        state=row.text("state"),  # type: ignore[arg-type]  # checked on reading
        why=row.text("why"),
    )


def part_pieces(car: CarFolder, weighed: Iterable[Weighed]) -> Iterator[tuple[Piece, Row]]:
    """Parts with their states; the amount is the significance.

    A part that holds others is an assembly and not counted beside them, unless its ``kind`` says
    that it is a part; one that was split, merged, replaced or withdrawn is not counted.
    """
    rules, claims = state_rules_of(car), _by_subject(weighed)
    holders = Counter(row.text("parent") for row in car.sheet("parts"))
    for row in car.sheet("parts"):
        name = row.text("part")
        holds = name in holders and row.text("kind") != "part"
        if holds or row.text("fate") or row.text("kind") == "assembly":
            continue
        decided = decide(claims.get(same_words(name), ()), rules=rules, written=row.text("state"))
        amount = row.number("significance", default=UNRATED)
        yield Piece(name=name, decided=decided, amount=amount), row


def finish_pieces(
    car: CarFolder, weighed: Iterable[Weighed], film: FilmReading | None
) -> Iterator[Piece]:
    """Finish of every panel with its state; the amount is the area of its outline [mm²]."""
    rules, claims = state_rules_of(car), _by_subject(weighed)
    read = {panel.panel: panel for panel in film.panels} if film else {}
    for panel in panels_of(car):
        decided = decide(claims.get(same_words(panel.panel), ()), rules=rules)
        yield Piece(
            name=panel.panel,
            decided=decided,
            amount=float(panel.outline.area),
            later_share=_later_share(decided, panel.outline, read.get(panel.panel)),
        )


def _later_share(decided: Decided, outline: Polygon, reading: PanelReading | None) -> float:
    """Share of a panel that is outlined as later work; all of it where nothing is outlined."""
    if decided.state != "L" or reading is None or outline.area <= 0:
        return 1.0
    areas = [area.outline for area in reading.areas if area.probability >= LIKELY]
    share = shapely.union_all(areas).intersection(outline).area / outline.area if areas else 1.0
    return min(1.0, float(share)) or 1.0


def _by_subject(weighed: Iterable[Weighed]) -> dict[str, list[Weighed]]:
    found: dict[str, list[Weighed]] = {}
    for one in weighed:
        found.setdefault(same_words(one.claim.subject), []).append(one)
    return found
