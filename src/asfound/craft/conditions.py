"""Words for what is found on a car: kinds of damage and of traces, and how grave they are.

The kinds are terms that panel beaters, trimmers, mechanics and conservators use; what each says is
this program's own wording. Basis: common practice, no source. A workshop adds words of its own.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from asfound.base import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of finding: its word, what it is met on, and what is meant by it."""

    word: str
    group: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Severity:
    """A step of severity: its figure, its word, and when it is given."""

    grade: int
    word: str
    says: str


SEVERITIES = (
    Severity(grade=0, word="trace", says="it tells something and harms nothing"),
    Severity(grade=1, word="slight", says="it is seen; nothing is lost and nothing fails"),
    Severity(grade=2, word="moderate", says="something is lost or works less well; it may grow"),
    Severity(grade=3, word="serious", says="much is lost, or it no longer does what it is for"),
    Severity(grade=4, word="grave", says="it can hurt someone, or the piece is about to be lost"),
)
"""Severity 0 to 4 in words; the steps are this program's own."""

METAL, FINISH, BRIGHT = "metal", "finish", "bright work"
WOOD, CLOTH = "wood", "cloth and leather"
RUBBER, GLASS = "rubber and plastic", "glass"
MACHINE, WIRES, ANY = "machinery", "wiring", "anything"

_WORDS = {
    METAL: {
        "surface rust": "a thin skin of rust; the metal below is sound",
        "rust scale": "rust in layers that come off",
        "pitting": "small hollows eaten into the surface",
        "perforation": "rusted or worn through",
        "metal thin": "less metal than there was, told by a gauge or by hand",
        "dent": "pushed in, the metal whole",
        "crack": "a split that begins or goes through",
        "bent": "out of its line",
        "earlier weld": "welded or patched before",
        "white corrosion": "powder or blisters on aluminium or zinc",
    },
    FINISH: {
        "scratch": "a line cut into the finish",
        "stone chips": "small spots knocked off",
        "crazing": "a net of fine cracks in the finish",
        "flaking": "edges lift and pieces come away",
        "blisters": "raised from below, closed or open",
        "filler": "filled and painted over",
        "overspray": "later paint where none belongs",
        "finish thin": "polished or worn so that a lower coat shows",
        "runs": "paint that ran before it dried",
        "colour slightly off": "close to its neighbour and not the same",
        "faded": "paler or of another hue than where it was covered",
        "chalking": "powder on the surface",
        "stain": "a mark soaked in or left by something",
    },
    BRIGHT: {
        "plating worn": "the base or a lower layer shows",
        "plating lifts": "blisters or peels",
        "tarnish": "dull or dark on bare metal",
    },
    WOOD: {
        "rot": "soft; an awl goes in",
        "insect holes": "flight holes, with or without fresh dust",
        "split": "open along the grain",
        "joint open": "glue or fixing has let go",
        "veneer lifts": "loose from its ground",
        "lacquer crazed": "a net of fine cracks in the lacquer",
    },
    CLOTH: {
        "tear": "torn through",
        "seam open": "the thread has gone, the edges are whole",
        "worn thin": "pile or grain gone, the ground shows",
        "brittle": "cracks when it is bent",
        "mould": "bloom or spots, by eye or by smell",
        "moth": "grazed or holed by larvae",
        "shrunk": "smaller than its place",
        "glue line": "a trace of something that was stuck or sewn on",
    },
    RUBBER: {
        "cracked": "open cracks in the surface or through it",
        "hard": "no longer gives",
        "swollen": "soft or larger than it was",
        "sticky": "breaks down to a film that clings",
    },
    GLASS: {
        "chip": "a piece gone from the edge or the face",
        "layers part": "laminated glass clouds or opens from its edge",
        "wiper marks": "scratched in an arc",
    },
    MACHINE: {
        "worn": "beyond what its maker or the trade allows",
        "play": "moves where it should not",
        "seized": "does not move where it should",
        "scored": "grooves along the way it moves",
        "weeping": "damp with a fluid, no drop falls",
        "leak": "drops or runs",
        "thread damaged": "stripped, crossed or pulled",
    },
    WIRES: {
        "insulation brittle": "cracks or comes off when it is touched",
        "chafed": "rubbed through to the conductor or nearly",
        "burnt": "charred or molten",
        "later joint": "spliced, taped or added",
    },
    ANY: {
        "broken": "in two or more pieces",
        "missing": "not there, though its place shows that it was",
        "loose": "its fixing no longer holds",
        "dirt": "dust, grease or soil that hides the surface",
        "mark": "chalk, crayon, stamp, label or number that somebody left",
        "earlier repair": "mended before, told by what",
        "later part": "not as old as what is around it",
    },
}
KINDS: tuple[Kind, ...] = tuple(
    Kind(word=word, group=group, says=says)
    for group, words in _WORDS.items()
    for word, says in words.items()
)
"""Kinds to offer, in the order of their groups."""
ON_A_PANEL = (METAL, FINISH)
"""Groups that a panel of the body calls for first."""
_CALLED_BY = {
    CLOTH: ("seat", "carpet", "hood", "trim", "mat", "squab", "cloth", "leather", "headlin"),
    WOOD: ("wood", "ash", "veneer", "dash", "floor", "frame", "capping", "steering"),
    RUBBER: ("seal", "hose", "tyre", "bush", "mat", "gaiter", "rubber", "grommet", "belt"),
    GLASS: ("glass", "windscreen", "window", "lamp", "lens", "mirror"),
    BRIGHT: ("bumper", "badge", "grille", "bezel", "handle", "rim", "strip", "catch", "trim"),
    WIRES: (
        "loom",
        "wir",
        "cable",
        "batter",
        "dynamo",
        "starter",
        "coil",
        "fuse",
        "horn",
        "switch",
    ),
    MACHINE: (
        *("engine", "gear", "axle", "pump", "spring", "brake", "carburet", "radiator", "pipe"),
        *("tank", "clutch", "shaft", "bearing", "hinge", "lock", "steering", "damper", "heater"),
    ),
    METAL: ("panel", "wing", "door", "bonnet", "sill", "chassis", "tray", "bulkhead", "tank"),
}
"""How words for parts begin that call for a group first."""
EXTENTS = ("a spot", "along the edge", "in one corner", "about half", "the whole")
"""Extents that need no tape, to be touched rather than typed."""
MOST_SEVERE = SEVERITIES[-1].grade


def groups_for(words: str) -> tuple[str, ...]:
    """Groups of kinds that a part of that name calls for first; none for a name nobody knows.

    Examples
    --------
    >>> groups_for("driver's seat")
    ('cloth and leather',)
    """
    met = re.findall(r"[^\W\d_]+", words.lower())
    return tuple(
        group for group, stems in _CALLED_BY.items() if any(word.startswith(stems) for word in met)
    )


def severity_of(value: float) -> Severity:
    """Step of severity that a figure of a table stands for: the nearest one.

    Parameters
    ----------
    value : float
        0 to 4.

    Raises
    ------
    InputError
        If it is outside.

    Examples
    --------
    >>> severity_of(3).word
    'serious'
    """
    if not 0 <= value <= MOST_SEVERE:
        raise InputError(field="severity", got=value, allowed=f"0 to {MOST_SEVERE}")
    return SEVERITIES[min(int(value + 0.5), MOST_SEVERE)]
