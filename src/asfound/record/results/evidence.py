"""Weights of evidence in the shape of the contract."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from asfound.record.folder import CarFolder
from asfound.record.results.aside import aside_json
from asfound.weigh import SCALE
from asfound.weigh.evidence import Hinge, Weighed, WeighedItem, base_rate_warning

DERIVED = "derived by the program"


def originality_json(claims: Iterable[Weighed]) -> list[dict[str, Any]]:
    """Weighed claims as ``originality`` of ``asfound history --json`` lists them."""
    return [_claim(weighed) for weighed in claims]


def evidence_json(claims: Iterable[Weighed], car: CarFolder) -> dict[str, Any]:
    """Weighed claims, and the rows that somebody doubted or withdrew."""
    return {
        "originality": originality_json(claims),
        "evidence_set_aside": [*aside_json(car, "evidence"), *aside_json(car, "wear")],
    }


def _claim(weighed: Weighed) -> dict[str, Any]:
    claim = weighed.claim
    return {
        "subject": claim.subject,
        "statement": claim.statement,
        "alternative": claim.alternative,
        "lr": weighed.lr,
        "words": weighed.words,
        "posterior": {f"{prior:g}": p for prior, p in weighed.posterior.items()},
        "declared": _declared(weighed),
        "scale": SCALE,
        "warning": base_rate_warning(weighed),
        "items": [_item(item) for item in weighed.items],
        "hinges": [_hinge(hinge) for hinge in weighed.hinges],
    }


def _declared(weighed: Weighed) -> dict[str, Any] | None:
    if weighed.declared is None:
        return None
    return {
        "prior": weighed.declared.prior,
        "reason": weighed.declared.reason,
        "posterior": weighed.declared_posterior,
    }


def _item(weighed: WeighedItem) -> dict[str, Any]:
    item = weighed.item
    return {
        "item": item.item,
        "lr": item.lr,
        "counts_lr": weighed.counts_lr,
        "basis": item.basis,
        "capped": weighed.is_capped,
        "cause": item.cause,
        "given": item.given,
        "set_aside": weighed.set_aside,
        "by": DERIVED if item.derived_from else item.by,
        "note": item.note,
        "derived_from": list(item.derived_from),
    }


def _hinge(hinge: Hinge) -> dict[str, str]:
    return {"item": hinge.item.item, "words_without": hinge.words_without}
