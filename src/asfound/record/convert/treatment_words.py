"""Each treatment told to an owner in plain words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentWords:
    """One treatment for people who do not know the trade's terms.

    ``does`` says what is done, ``loses`` what is lost by it; ``is_final`` holds where it can never
    be undone, so that photographs and agreement come first.
    """

    does: str
    loses: str
    is_final: bool = False


TREATMENTS = {
    "leave as found": TreatmentWords(
        does="Nothing is done. Its condition is recorded and a day is set to look again.",
        loses="nothing",
    ),
    "preventive care": TreatmentWords(
        does="Only its surroundings are cared for: dried, covered, drained or supported.",
        loses="nothing",
    ),
    "clean": TreatmentWords(
        does="Dirt and old residue come off down to an agreed level; the finish stays.",
        loses="the layer of dirt, which cannot be put back",
        is_final=True,
    ),
    "stabilise": TreatmentWords(
        does="What is coming loose or rusting is held and stopped where it is.",
        loses="next to nothing",
    ),
    "repair": TreatmentWords(
        does="The piece itself is mended with as little new material as will do.",
        loses="little",
    ),
    "overhaul": TreatmentWords(
        does="It is taken apart, its housing kept, and what is worn renewed to a set measure.",
        loses="the worn parts",
    ),
    "reinstate": TreatmentWords(
        does="A later change is taken back and the documented earlier piece put on again.",
        loses="the later layer, which is kept and listed",
    ),
    "reintegrate": TreatmentWords(
        does="A gap is filled and toned in so that it reads as whole, and can be told close up.",
        loses="nothing",
    ),
    "refinish": TreatmentWords(
        does="The finish of the whole area is renewed; the one before it is gone there.",
        loses="the whole finish of that area; a sample of it is kept",
        is_final=True,
    ),
    "replace with period part": TreatmentWords(
        does="A part of the same kind and time from another source takes its place.",
        loses="the whole piece, which is kept",
    ),
    "replace with new": TreatmentWords(
        does="A new part made to the original specification takes its place, marked and dated.",
        loses="the whole piece, which is kept",
    ),
    "adapt": TreatmentWords(
        does="Something that the car did not have is fitted so that it can be taken off again.",
        loses="as little as possible",
    ),
}
"""The twelve terms in rising order of loss, after EN 15898 and the public charter for historic
vehicles (from memory); wording our own."""

_OTHER = TreatmentWords(does="As the workshop describes it.", loses="what the figures say")


def words_of(treatment: str) -> TreatmentWords:
    """The treatment in plain words; a neutral sentence for one that the workshop named itself."""
    return TREATMENTS.get(treatment, _OTHER)
