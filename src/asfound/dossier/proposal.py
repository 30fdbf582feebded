"""A proposal as a document: what the owner reads, and what they signed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from asfound import __version__
from asfound.dossier.account.photos import Picture
from asfound.dossier.files import Attached
from asfound.dossier.numbers import MINUS, plain, share, trimmed
from asfound.dossier.setting import set_pdf
from asfound.record.as_files import json_bytes

_MAIN = "proposal.typ"
MOST_PICTURES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What stands at the head of a proposal.

    Parameters
    ----------
    car : str
        The car in a few words.
    invented : bool
    number : int
    title, words : str
    sent_on : date
    follows : str
        The signed proposal that it changes, in words; empty for the first.
    """

    car: str
    invented: bool
    number: int
    title: str
    words: str
    sent_on: date
    follows: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """A signature as the document shows it."""

    typed_name: str
    account: str
    at: datetime
    document_sha256: str


def make_proposal(
    content: Mapping[str, Any],
    *,
    head: Head,
    picture: Picture | None = None,
    signed: Signed | None = None,
) -> bytes:
    """PDF/A-3b of a proposal, with its content attached as JSON.

    Parameters
    ----------
    content : mapping
        As ``record.convert.proposal.proposal_content`` makes it.
    head : Head
    picture : callable, optional
        Gives a small JPEG of a photograph by its path and hash.
    signed : Signed, optional
        The signature; without it the document is the proposal as sent.

    Returns
    -------
    bytes
        The same input gives the same bytes.
    """
    pictures = _pictures(content, picture)
    attached = (
        Attached(name="proposal.json", data=json_bytes(dict(content)), what="the proposal as data"),
    )
    data = {
        "version": __version__,
        "made_on": head.sent_on.isoformat(),
        "kind": "Change order" if head.follows else "Proposal",
        "car": {"name": head.car, "invented": head.invented},
        "number": head.number,
        "title": head.title,
        "words": head.words,
        "follows": head.follows,
        "facts": _facts(content),
        "effect": _effect(content),
        "zones": _zones(content, pictures, changed=True if head.follows else None),
        "stays": _zones(content, pictures, changed=False) if head.follows else [],
        "brief": (content["brief"] or {}).get("note") or "",
        "signed": None
        if signed is None
        else {
            "name": signed.typed_name,
            "account": signed.account,
            "at": signed.at.strftime("%Y-%m-%d %H:%M %Z"),
            "sha256": signed.document_sha256,
        },
        "attach": [f.told for f in attached],
    }
    return set_pdf(
        data,
        figures={},
        pictures=dict(pictures.values()),
        attached=attached,
        made_on=head.sent_on,
        main=_MAIN,
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _pictures(content: Mapping[str, Any], picture: Picture | None) -> dict[str, tuple[str, bytes]]:
    """Name in the document and bytes of each photograph, by its hash."""
    found: dict[str, tuple[str, bytes]] = {}
    shown = [sha for p in content["pieces"] for sha in (p["photo"], *p.get("found_photos", ()))]
    for sha256 in filter(None, shown):
        if picture is not None and len(found) < MOST_PICTURES and sha256 not in found:
            jpeg = picture("", sha256)
            if jpeg:
                found[sha256] = (f"piece-{len(found)}.jpg", jpeg)
    return found


def _facts(content: Mapping[str, Any]) -> list[list[str]]:
    sums, currency = content["sums"], content["currency"]
    weeks = sums["weeks"]
    return [
        ["kept of the original fabric", share(sums["kept"])],
        ["cost", f"{plain(sums['cost'])} {currency}".strip()],
        ["hours of work", trimmed(sum(sums["hours"].values()))],
        [
            "weeks of the trade that takes longest, at least",
            "not known" if weeks is None else trimmed(weeks),
        ],
        [
            "finished by, in 8 of 10 cases",
            sums.get("promise") or "not planned yet when this was sent",
        ],
        ["lowest finish, of 5", trimmed(sums["lowest_grade"])],
    ]


def _effect(content: Mapping[str, Any]) -> list[list[str]]:
    effect = content["effect"]
    if effect is None:
        return []
    weeks, days = effect["weeks"], effect.get("days")
    if days is None:  # none was signed to hold it against
        days = content["sums"].get("promise_moves")
    per_cent = effect["kept"] * 100
    kept = round(per_cent, 1) or round(per_cent, 2) or 0.0  # never minus nothing
    return [
        [name, said.replace("-", MINUS)]
        for name, said in (
            ("original fabric", f"{kept:+g} % of the car"),
            ("cost", f"{effect['cost']:+,.0f} {content['currency']}".strip()),
            ("hours of work", f"{round(effect['hours'], 2):+g}"),
            ("weeks, at least", "not known" if weeks is None else f"{round(weeks, 1):+g}"),
            ("day of the plan", "not known" if days is None else f"{days:+d} days"),
        )
    ]


def _zones(
    content: Mapping[str, Any],
    pictures: Mapping[str, tuple[str, bytes]],
    *,
    changed: bool | None,
) -> list[dict[str, Any]]:
    """Pieces by zone: those that the change order changes, the others, or with ``None`` all."""
    zones: dict[str, list[dict[str, Any]]] = {}
    for piece in content["pieces"]:
        if changed is not None and changed != bool(piece["was"]):
            continue
        zones.setdefault(piece["zone"] or "other pieces", []).append(
            {
                "subject": piece["subject"],
                "treatment": piece["treatment"],
                "option": piece["option"],
                "was": piece["was"] or "",
                "does": piece["does"],
                "loses": piece["loses"],
                "final": piece["is_final"],
                "kept": f"{piece['kept'] * 100:.0f} %",
                "cost": f"{plain(piece['cost'])} {content['currency']}".strip(),
                "hours": trimmed(piece["hours"]),
                "because": piece["because"],
                "matters": "; ".join(piece.get("matters", ())),
                "begun": piece.get("begun", ""),
                "turns": piece.get("turns_begun", False),
                "lock": _capital(piece.get("lock", "")),
                "dissents": [_capital(words) for words in piece.get("dissents", ())],
                "picture": pictures[piece["photo"]][0] if piece["photo"] in pictures else "",
                "found": [
                    pictures[sha][0] for sha in piece.get("found_photos", ()) if sha in pictures
                ],
            }
        )
    return [{"zone": zone, "pieces": pieces} for zone, pieces in zones.items()]
