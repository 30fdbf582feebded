"""The ledger of a car as ``asfound ledger --json`` prints it."""

from __future__ import annotations

from typing import Any

from asfound.record.evidence.ledger import Ledger
from asfound.weigh.ledger import STATES, Account, Piece, StateRule

NOT_KNOWN = (
    "“Not known” is a share of its own: it is neither original nor later, and no evidence was "
    "strong enough for a rule to say which."
)


def ledger_json(ledger: Ledger) -> dict[str, Any]:
    """States of all pieces and the shares they come to."""
    return {
        "by_area_of_finish": _account(ledger.by_area),
        "by_part": _account(ledger.by_part),
        "by_significance": _account(ledger.by_significance),
        "parts": [
            {**_piece(piece), "written": ledger.written[piece.name]} for piece in ledger.parts
        ],
        "finish": [
            {**_piece(piece), "later_share": round(piece.later_share, 6)} for piece in ledger.finish
        ],
        "rules": [_rule(rule) for rule in ledger.rules],
        "note": NOT_KNOWN,
    }


def state_words(state: str) -> str:
    """State for people; undetermined is told as what it means."""
    return "not known" if state == "U" else STATES[state]


def _account(account: Account) -> dict[str, Any]:
    return {
        "pieces_n": account.pieces_n,
        "total": round(account.total, 3),
        "original": round(account.original, 6),
        "not_known": round(account.not_known, 6),
        "shares": {share.state: round(share.share, 6) for share in account.shares},
    }


def _piece(piece: Piece) -> dict[str, Any]:
    decided = piece.decided
    return {
        "name": piece.name,
        "state": decided.state,
        "words": state_words(decided.state),
        "because": decided.because,
        "rule": None if decided.rule is None else decided.rule.words,
        "lr": None if decided.claim is None else decided.claim.lr,
        "amount": round(piece.amount, 3),
    }


def _rule(rule: StateRule) -> dict[str, Any]:
    return {
        "statement": rule.statement,
        "favours": rule.favours,
        "least_lr": rule.least_lr,
        "state": rule.state,
        "why": rule.why,
        "words": rule.words,
    }
