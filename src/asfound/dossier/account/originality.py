"""What is original, as far as evidence goes: ledger, claims, numbers, odometer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from asfound.dossier.computed import Originality
from asfound.dossier.figures import balance_svg, shares_svg
from asfound.dossier.numbers import MISSING, THIN, share
from asfound.record.convert.numbers import CarMark
from asfound.record.convert.standing import counts, standing_words
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder, Row
from asfound.record.results.colour_words import lr_figure
from asfound.record.results.evidence import DERIVED
from asfound.record.results.ledger import NOT_KNOWN, state_words
from asfound.record.results.numbers import LIMIT
from asfound.record.results.odometer import (
    BAND,
    FROM_NEW,
    changes_words,
    distance_words,
    story_span,
)
from asfound.weigh import SCALE
from asfound.weigh.evidence import Weighed, WeighedItem
from asfound.weigh.ledger import STATES, Account, Piece, StateRule
from asfound.weigh.odometer import OdometerResult

_NEARLY_NONE = 0.01
_DRAWN_ITEMS = 2
"""A claim with fewer items is told in a line, and so is one that was derived alone; the others
are drawn as a balance."""


def about_originality(found: Originality, car: CarFolder) -> dict[str, Any]:
    """Ledger, evidence, numbers check and odometer for setting."""
    drawn = drawn_claims(found)
    return {
        "scale": SCALE,
        "states": list(map(state_words, STATES)),
        "shares": [[name, *_shares(account)] for name, account in _accounts(found.ledger)],
        "not_known": NOT_KNOWN,
        "rules": [_rule(rule) for rule in found.ledger.rules],
        "pieces": [_piece(p) for p in (*found.ledger.parts, *found.ledger.finish) if _told(p)],
        "silent_n": sum(not _told(p) for p in (*found.ledger.parts, *found.ledger.finish)),
        "claims": [_claim(weighed) for weighed in drawn],
        "lines": [_line(weighed) for weighed in found.weighed if weighed not in drawn],
        "aside": [_aside(row) for row in car.sheet("evidence") if not counts(row)],
        "numbers": [_mark(mark) for mark in found.marks],
        "limit": LIMIT,
        "classes": [one.words for one in found.classes],
        "odometer": _odometer(found.odometer) if found.odometer else None,
    }


def originality_figures(found: Originality) -> dict[str, str]:
    """Bars of the ledger, and the balance of every claim that is drawn."""
    figures = {
        f"balance-{number}.svg": balance_svg(weighed, theme="print")
        for number, weighed in enumerate(drawn_claims(found))
    }
    accounts = _accounts(found.ledger)
    return figures | ({"shares.svg": shares_svg(accounts, theme="print")} if accounts else {})


def drawn_claims(found: Originality) -> list[Weighed]:
    """Claims with more than one item, of which a person wrote one at least."""
    return [
        weighed
        for weighed in found.weighed
        if len(weighed.items) >= _DRAWN_ITEMS
        and not all(item.item.derived_from for item in weighed.items)
    ]


def _accounts(ledger: Ledger) -> list[tuple[str, Account]]:
    counts = (
        ("by area of finish", ledger.by_area),
        ("by part", ledger.by_part),
        ("by significance", ledger.by_significance),
    )
    return [(name, account) for name, account in counts if account.total]


def _shares(account: Account) -> list[str]:
    return [share(one.share) for one in account.shares]


def _told(piece: Piece) -> bool:
    return piece.decided.claim is not None or piece.decided.state != "U"


def _rule(rule: StateRule) -> str:
    """Rule in words, the state by its name."""
    return f"{state_words(rule.state)}{rule.words.removeprefix(rule.state)}"


def _piece(piece: Piece) -> list[str]:
    part = f", {piece.later_share:.0%} of it" if piece.later_share < 1 else ""
    return [piece.name, state_words(piece.decided.state) + part, piece.decided.because]


def _claim(weighed: Weighed) -> dict[str, Any]:
    claim = weighed.claim
    return {
        "title": f"{claim.subject}: {claim.statement}, or {claim.alternative}?",
        "words": weighed.words,
        "lr": lr_figure(weighed.lr),
        "chances": [[f"{prior:g}", _chance(p)] for prior, p in weighed.posterior.items()],
        "declared": _declared(weighed),
        "items": [_item(item) for item in weighed.items],
        "hinges": [f"“{h.item.item}”: {h.words_without}" for h in weighed.hinges],
    }


def _declared(weighed: Weighed) -> str:
    if weighed.declared is None or weighed.declared_posterior is None:
        return ""
    chance = _chance(weighed.declared_posterior)
    return f"{weighed.declared.prior:g} leaves {chance}; {weighed.declared.reason}"


def _chance(p: float) -> str:
    """Probability as whole per cent; the ends stay open, for no evidence makes certain."""
    if p < _NEARLY_NONE:
        return f"under 1{THIN}%"
    return f"over 99{THIN}%" if p > 1 - _NEARLY_NONE else f"{p * 100:.0f}{THIN}%"


def _item(weighed: WeighedItem) -> list[str]:
    item = weighed.item
    counts = MISSING if weighed.set_aside else lr_figure(weighed.counts_lr)
    by = DERIVED if item.derived_from else item.by
    return [item.item, lr_figure(item.lr), counts, item.basis, item.cause, by]


def _line(weighed: Weighed) -> list[str]:
    claim = weighed.claim
    counting = [item.item.item for item in weighed.items if not item.set_aside]
    return [claim.subject, weighed.words, lr_figure(weighed.lr), "; ".join(counting)]


def _aside(row: Row) -> list[str]:
    said = f"{row.text('item')} ({row.text('statement')}, or {row.text('alternative')}?)"
    return [row.text("subject"), said, row.text("lr"), standing_words(row)]


def _mark(mark: CarMark) -> list[str]:
    reading, checks = mark.judged.reading, mark.judged.checks
    return [
        reading.kind,
        mark.row.text("text_as_read"),
        reading.expected or MISSING,
        mark.judged.words,
        "; ".join(check.why for check in checks if check.verdict != "same"),
    ]


def _odometer(result: OdometerResult) -> dict[str, Any]:
    unit = result.readings[-1].unit
    return {
        "clashes": [[*_names(clash.readings), clash.why] for clash in result.clashes],
        "stories": [
            [changes_words(story), distance_words(story_span(story), unit)]
            for story in result.stories
        ],
        "notes": f"{FROM_NEW} {BAND}",
    }


def _names(readings: Sequence[Any]) -> list[str]:
    return [reading.name for reading in readings]
