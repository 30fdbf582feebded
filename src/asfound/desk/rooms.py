"""To which room of a car an address belongs, so that an owner sees only what is released."""

from __future__ import annotations

from asfound.record.models.release import OwnersRoom

WHOLE_CAR = "car"
"""The sheet of the car itself, which its owner always sees."""
WORKSHOP = None
"""Pages of a car that are never an owner's."""
ROOM_OF = {
    "": WHOLE_CAR,
    "miniature": WHOLE_CAR,
    "holds": WHOLE_CAR,
    "finish": OwnersRoom.SURVEY,
    "choice": OwnersRoom.DECISIONS,
    "fabric": OwnersRoom.DECISIONS,
    "survey": OwnersRoom.SURVEY,
    "metal": OwnersRoom.SURVEY,
    "colour": OwnersRoom.SURVEY,
    "polish": OwnersRoom.SURVEY,
    "gaps": OwnersRoom.SURVEY,
    "history": OwnersRoom.SURVEY,
    "papers": OwnersRoom.SURVEY,
    "evidence": OwnersRoom.SURVEY,
    "tables": OwnersRoom.SURVEY,
    "sheet": OwnersRoom.SURVEY,
    "decisions": OwnersRoom.DECISIONS,
    "parts": OwnersRoom.PARTS,
    "errands": OwnersRoom.PARTS,
    "places": OwnersRoom.PARTS,
    "photos": OwnersRoom.PARTS,
    "findings": OwnersRoom.PARTS,
    "dossier": OwnersRoom.DOSSIER,
    "money": OwnersRoom.MONEY,
    "needs": WORKSHOP,
    "plan": WORKSHOP,
    "work": WORKSHOP,
    "log": WORKSHOP,
    "owner": WORKSHOP,
    "undo": WORKSHOP,
}
"""First word of an address behind the car's, to the room; a word that is not here is closed."""


def room_of_address(path: str, slug: str) -> str | None:
    """Room that an address of the car belongs to; ``None`` for one that is the workshop's alone."""
    _, found, rest = path.partition(f"/cars/{slug}/")
    return ROOM_OF.get(rest.partition("/")[0]) if found else None
