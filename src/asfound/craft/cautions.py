"""Cautions: where work on an old car can hurt someone, and whose rules to follow.

They are reminders and never replace local rules or the judgement of licensed and competent
people. Each row keeps how well its source was read: see ``basis``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Basis = Literal["looked up", "partly looked up", "not verified"]

DEFER = (
    "Follow the local rules and leave the work to licensed or competent people where they ask"
    " for it; these reminders are not complete."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One danger and what to do about it.

    Parameters
    ----------
    hazard : str
    where : str
        Where on a car it is met.
    do : str
        What to do, in plain words.
    source : str
        Where the rule was read.
    basis : {"looked up", "partly looked up", "not verified"}
        How well the source was read.
    called_by : tuple of str
        Beginnings of words that call for this caution; empty if it always stands.
    """

    hazard: str
    where: str
    do: str
    source: str
    basis: Basis
    called_by: tuple[str, ...] = ()


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        hazard="asbestos",
        where="brake and clutch linings, gaskets, lagging, underseal, sound pads",
        do="Treat as asbestos until tested. No air line, no dry brushing; wet rags. Waste goes as"
        " asbestos; it is not fitted again.",
        source="HSE, asbestos in motor vehicle repair; OSHA 29 CFR 1910.1001 App. F; EPA 2007",
        basis="looked up",
        called_by=(
            "brake",
            "clutch",
            "gasket",
            "lagging",
            "underseal",
            "exhaust",
            "handbrake",
            "heater",
        ),
    ),
    Caution(
        hazard="lead",
        where="old paint, body solder, plating, bearings, residue of leaded petrol",
        do="Test before sanding or heating. No dry sanding, no torch on old paint. Wash before"
        " eating; the rules on lead in blood apply.",
        source="HSE, lead at work",
        basis="looked up",
        called_by=(
            "paint",
            "finish",
            "solder",
            "respray",
            "strip",
            "sand",
            "polish",
            "plat",
            "bearing",
            "blast",
            "coat",
            "bonnet",
            "wing",
            "door",
            "panel",
            "sill",
        ),
    ),
    Caution(
        hazard="dust of polishing and sanding",
        where="machine polishing, rubbing down, and cleaning up afterwards",
        do="Work wet where the finish allows it, draw the dust off at the tool, wear goggles and a"
        " dust mask that fits and suits the dust. Neither blow it off nor sweep it dry.",
        source="HSE, list of COSHH topics in motor vehicle repair; the particulars are common"
        " practice, no source",
        basis="partly looked up",
        called_by=("polish", "sand", "rubbing", "refinish", "compound"),
    ),
    Caution(
        hazard="chromate, cadmium, nickel; methylene chloride",
        where="primer, plated fasteners, paint strippers",
        do="Find out what it is before stripping or heating it; read the rules on strippers.",
        source="EPA, 40 CFR 63 subpart HHHHHH",
        basis="looked up",
        called_by=("primer", "plat", "strip", "refinish", "reinstate", "blast"),
    ),
    Caution(
        hazard="isocyanates",
        where="two-pack paint, adhesive and foam",
        do="Spray only in a booth whose clearance time is known, with air-fed breathing gear and"
        " health checks.",
        source="HSE, COSHH in motor vehicle repair; SIM 03/2012/01; sheets MR1 to MR5",
        basis="looked up",
        called_by=("refinish", "respray", "paint", "reintegrate", "adhesive", "foam"),
    ),
    Caution(
        hazard="petrol and its vapour",
        where="tank, pipes, carburettors, pits",
        do="Use a fuel retriever. Never drain over a pit. No hot work on a tank that is not"
        " certified free of gas.",
        source="HSE, fire and explosion in motor vehicle repair; OC 803/71",
        basis="looked up",
        called_by=("petrol", "fuel", "tank", "carburettor"),
    ),
    Caution(
        hazard="springs under load",
        where="coil, leaf and torsion springs, struts",
        do="Use a rated compressor or the maker's way. Never free a loaded spring by hand.",
        source="no regulator's page found",
        basis="not verified",
        called_by=("spring", "strut", "damper", "suspension", "torsion"),
    ),
    Caution(
        hazard="tyres and split rims",
        where="inflating; wheels of several pieces",
        do="Let the air out before taking off. Use a cage where the rules ask for it; stand clear"
        " of the side wall.",
        source="HSE, tyres in motor vehicle repair",
        basis="looked up",
        called_by=("tyre", "wheel", "rim"),
    ),
    Caution(
        hazard="stored pressure",
        where="air and hydraulic suspension, accumulators, gas struts, air conditioning, airbags",
        do="Have it discharged by a trained person; disconnect and wait as the maker says.",
        source="HSE safety alert, May 2020, as cited by the trade; the rest from memory",
        basis="partly looked up",
        called_by=("accumulator", "airbag", "hydraulic", "pneumatic"),
    ),
    Caution(
        hazard="lifting and jacking",
        where="any work under the car or with a unit lifted out",
        do="Stands on level floor, wheels chocked, rated points. Never under a car on a jack"
        " alone.",
        source="HSE, working under vehicles; INDG434",
        basis="looked up",
        called_by=(
            "engine",
            "gearbox",
            "axle",
            "chassis",
            "floor",
            "exhaust",
            "propeller",
            "body",
        ),
    ),
    Caution(
        hazard="batteries",
        where="charging, moving, disconnecting",
        do="Hydrogen: no spark, air the room. Acid: goggles and gloves. Earth lead off first.",
        source="HSE, INDG139",
        basis="looked up",
        called_by=("battery", "loom", "wiring", "starter", "dynamo", "electric"),
    ),
    Caution(
        hazard="magnesium",
        where="wheels, gearbox and crank cases, pressings",
        do="No water, foam or CO₂ on a fire: class D powder or dry sand. Keep swarf dry and"
        " little.",
        source="DGUV Information 209-090e; T.O. 1-1A-9",
        basis="looked up",
        called_by=("magnesium", "elektron"),
    ),
    Caution(
        hazard="burnt seals of fluoroelastomer",
        where="a car that has had a fire",
        do="As a precaution: gloves, do not touch charred seals.",
        source="HSE, fluoroelastomers in motor vehicle repair",
        basis="looked up",
        called_by=("fire", "burnt", "charred"),
    ),
    Caution(
        hazard="radium and tritium",
        where="luminous dials before about 1970",
        do="Do not open or scrape. Check with a counter; keep closed.",
        source="EPA, radioactive antiques",
        basis="looked up",
        called_by=("instrument", "dial", "clock", "gauge"),
    ),
    Caution(
        hazard="fluids, mould, sharp rusted steel, welding fume, noise, vibration",
        where="everywhere",
        do="Gloves, goggles, ventilation and hearing protection as the work asks.",
        source="HSE, list of COSHH topics in motor vehicle repair",
        basis="partly looked up",
    ),
)


def cautions_for(words: Iterable[str]) -> tuple[Caution, ...]:
    """Cautions that the words call for, in the order of ``CAUTIONS``.

    Parameters
    ----------
    words : iterable of str
        Names of parts and panels, treatments, findings: any text about the work.

    Notes
    -----
    A word calls for a caution when it begins with one of ``called_by``. This errs towards
    showing: it reads words, not meaning.

    Examples
    --------
    >>> [c.hazard for c in cautions_for(["front brakes"])][0]
    'asbestos'
    """
    met = {word for text in words for word in re.findall(r"[^\W\d_]+", text.lower())}
    return tuple(
        caution
        for caution in CAUTIONS
        if not caution.called_by or any(word.startswith(caution.called_by) for word in met)
    )
