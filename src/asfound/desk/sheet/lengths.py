"""The lengths that a tape gives: their letter in the drawing, name, and where to hold the tape."""

from __future__ import annotations

import re
from dataclasses import dataclass

from asfound.measure.sheet import BodyForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """One length of the tape, in mm."""

    letter: str
    name: str
    label: str
    hold: str
    least_mm: float
    most_mm: float
    needed: bool = False


LENGTHS = (
    Length(
        letter="A",
        name="wheelbase_mm",
        label="wheelbase",
        hold="Hub to hub along one side, wheels straight ahead.",
        least_mm=800,
        most_mm=6000,
        needed=True,
    ),
    Length(
        letter="B",
        name="length_mm",
        label="length",
        hold="Nose to tail of the body, without bumpers.",
        least_mm=1200,
        most_mm=9000,
        needed=True,
    ),
    Length(
        letter="C",
        name="width_mm",
        label="width",
        hold="Over the wings at the widest place.",
        least_mm=600,
        most_mm=3000,
        needed=True,
    ),
    Length(
        letter="D",
        name="height_mm",
        label="height",
        hold="Ground to the top of the roof; of an open car, to the top of the scuttle.",
        least_mm=500,
        most_mm=4000,
        needed=True,
    ),
    Length(
        letter="E",
        name="front_overhang_mm",
        label="front overhang",
        hold="Front hub to the nose.",
        least_mm=50,
        most_mm=3000,
    ),
    Length(
        letter="F",
        name="rear_overhang_mm",
        label="rear overhang",
        hold="Rear hub to the tail.",
        least_mm=50,
        most_mm=3000,
    ),
    Length(
        letter="G",
        name="bonnet_mm",
        label="bonnet",
        hold="Along the middle, front edge to rear edge.",
        least_mm=200,
        most_mm=4000,
    ),
    Length(
        letter="H",
        name="bonnet_width_mm",
        label="bonnet width",
        hold="Across its rear edge.",
        least_mm=200,
        most_mm=2500,
    ),
    Length(
        letter="I",
        name="boot_mm",
        label="boot lid or bed",
        hold="Along the middle, edge to edge.",
        least_mm=100,
        most_mm=4000,
    ),
    Length(
        letter="J",
        name="front_door_mm",
        label="front door",
        hold="Edge to edge at its longest.",
        least_mm=200,
        most_mm=2500,
    ),
    Length(
        letter="K",
        name="rear_door_mm",
        label="rear door",
        hold="Edge to edge at its longest, where there is one.",
        least_mm=200,
        most_mm=2500,
    ),
    Length(
        letter="L",
        name="sill_mm",
        label="sill",
        hold="Ground to the underside of sill or running board.",
        least_mm=50,
        most_mm=1200,
    ),
    Length(
        letter="M",
        name="wheel_mm",
        label="wheel",
        hold="Outer diameter over the tyre.",
        least_mm=250,
        most_mm=1500,
    ),
    Length(
        letter="N",
        name="glass_mm",
        label="glass",
        hold="Height of the front door's opening for glass; not of open cars.",
        least_mm=80,
        most_mm=1200,
    ),
)
LABELS = {length.name: length.label for length in LENGTHS}


def label_on(form: BodyForm, name: str) -> str:
    """Label of a length on a body of that form, which has a boot lid or a bed and not both."""
    if name == "boot_mm":
        return "bed" if form.load_bed else "boot lid"
    return LABELS[name]


def in_words(text: str) -> str:
    """Text of a rule with the names of lengths as people say them.

    Examples
    --------
    >>> in_words("under length_mm less wheelbase_mm")
    'under the length less the wheelbase'
    """
    return re.sub(r"\w+_mm", lambda m: f"the {LABELS.get(m.group(), m.group())}", text)
