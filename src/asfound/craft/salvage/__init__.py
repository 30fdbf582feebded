"""Salvage stock: whether a piece of original material serves what a car needs."""

from asfound.craft.salvage.laying import Laid, NotLaid, lay_within, turns_allowed
from asfound.craft.salvage.matching import Aspect, Match, match_pieces
from asfound.craft.salvage.piece import Need, Piece, Years

__all__ = [
    "Aspect",
    "Laid",
    "Match",
    "Need",
    "NotLaid",
    "Piece",
    "Years",
    "lay_within",
    "match_pieces",
    "turns_allowed",
]
