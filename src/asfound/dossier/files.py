"""Files that travel inside the dossier."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from asfound.dossier.computed import Computed
from asfound.record.as_files import for_owner, json_bytes, table_files
from asfound.record.folder import CarFolder
from asfound.record.results.aside import aside_json
from asfound.record.results.choice import choice_json
from asfound.record.results.colour import colour_json
from asfound.record.results.colour_words import both_signs
from asfound.record.results.evidence import evidence_json
from asfound.record.results.film import film_json
from asfound.record.results.gaps import gaps_json
from asfound.record.results.history import dates_json
from asfound.record.results.ledger import ledger_json
from asfound.record.results.metal import metal_json
from asfound.record.results.numbers import numbers_json
from asfound.record.results.odometer import odometer_json
from asfound.record.results.polish import polish_json

CHECKSUMS = "SHA512SUMS"
_MIME = {"csv": "text/csv", "json": "application/json"}
_WHAT = {
    "datapackage.json": "what the tables are: columns, types, units",
    "brief.json": "the owner's limits",
    "lift.json": "lifting out a unit: side view",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """A file attached to the dossier."""

    name: str
    data: bytes
    what: str
    relationship: str = "data"

    @property
    def mime(self) -> str:
        """Media type."""
        return _MIME.get(self.name.rpartition(".")[2], "text/plain")

    @property
    def sha512(self) -> str:
        """Hash of the bytes, in hexadecimal."""
        return hashlib.sha512(self.data).hexdigest()


def attached_files(car: CarFolder, computed: Computed) -> tuple[Attached, ...]:
    """Tables of the car, results as JSON, and the check sums of them all."""
    files = [
        Attached(name=name, data=data, what=_WHAT.get(name, f"table {name.removesuffix('.csv')}"))
        for name, data in sorted(table_files(for_owner(car)).items())
    ]
    if computed.reading:
        data = json_bytes(film_json(computed.reading))
        files.append(
            Attached(
                name="film.json", data=data, what="reading of the finish", relationship="supplement"
            )
        )
    if computed.metal:
        files.append(
            Attached(
                name="metal.json",
                data=json_bytes(metal_json(computed.metal, car)),
                what="what is left of the sheet metal",
                relationship="supplement",
            )
        )
    colour = computed.colour
    if colour:
        both = both_signs(computed.reading, colour) if computed.reading else ()
        files.append(
            Attached(
                name="colour.json",
                data=json_bytes(colour_json(colour, car, both=both)),
                what="reading of the colour",
                relationship="supplement",
            )
        )
    if computed.polish:
        files.append(
            Attached(
                name="polish.json",
                data=json_bytes(polish_json(computed.polish)),
                what="what passes of polish take and what is left above the floors",
                relationship="supplement",
            )
        )
    if computed.gaps:
        files.append(
            Attached(
                name="gaps.json",
                data=json_bytes(gaps_json(computed.gaps)),
                what="how gaps run and whether left mirrors right",
                relationship="supplement",
            )
        )
    if computed.history:
        files.append(
            Attached(
                name="dates.json",
                data=json_bytes(dates_json(computed.history, car)),
                what="when things happened and which statements clash",
                relationship="supplement",
            )
        )
    files += _evidence_files(car, computed)
    decided = computed.decided
    if decided:
        content = choice_json(
            choice=decided.choice, front=decided.front, whys=decided.whys, clash=decided.clash
        )
        files.append(
            Attached(
                name="choice.json",
                data=json_bytes(content),
                what="choice, front and reasons",
                relationship="supplement",
            )
        )
    sums = "".join(f"{file.sha512}  {file.name}\n" for file in files)
    return (
        *files,
        Attached(name=CHECKSUMS, data=sums.encode(), what="SHA-512 of the files above"),
    )


def _evidence_files(car: CarFolder, computed: Computed) -> list[Attached]:
    """Weights of evidence, the ledger as found, numbers check and odometer, where there are any."""
    found = computed.originality
    if found is None:
        return []
    told: list[tuple[str, Any, str]] = [
        ("evidence.json", evidence_json(found.weighed, car), "weights of evidence, item by item"),
        ("ledger.json", ledger_json(found.ledger), "state of every piece as found"),
    ]
    if found.marks or found.classes:
        aside = {"set_aside": aside_json(car, "identifiers")}
        numbers = numbers_json(found.marks, found.classes) | aside
        told.append(("numbers.json", numbers, "marks beside what is expected of them"))
    if found.odometer:
        aside = {"set_aside": aside_json(car, "odometer")}
        shown = odometer_json(found.odometer) | aside
        told.append(("odometer.json", shown, "readings that contradict and distances that fit"))
    return [
        Attached(name=name, data=json_bytes(content), what=what, relationship="supplement")
        for name, content, what in told
    ]
