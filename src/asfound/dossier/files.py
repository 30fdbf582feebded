"""Files that travel inside the dossier."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
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
_Result = tuple[str, Any, str]
"""Name of a file, its content, and what that is."""


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
    def told(self) -> dict[str, str]:
        """What the template is told of it."""
        return {
            "name": self.name,
            "mime": self.mime,
            "what": self.what,
            "relationship": self.relationship,
        }

    @property
    def sha512(self) -> str:
        """Hash of the bytes, in hexadecimal."""
        return hashlib.sha512(self.data).hexdigest()


def attached_files(car: CarFolder, computed: Computed) -> tuple[Attached, ...]:
    """Tables of the car, results as JSON, and the check sums of them all."""
    tables = (
        Attached(name=name, data=data, what=_WHAT.get(name, f"table {name.removesuffix('.csv')}"))
        for name, data in sorted(table_files(for_owner(car)).items())
    )
    results = (
        Attached(name=name, data=json_bytes(content), what=what, relationship="supplement")
        for name, content, what in (
            *_of_readings(car, computed),
            *_of_evidence(car, computed),
            *_of_choice(computed),
        )
    )
    files = (*tables, *results)
    sums = "".join(f"{file.sha512}  {file.name}\n" for file in files)
    return (
        *files,
        Attached(name=CHECKSUMS, data=sums.encode(), what="SHA-512 of the files above"),
    )


def _of_readings(car: CarFolder, computed: Computed) -> Iterator[_Result]:
    """What was read of finish, metal, colour, polish, gaps and dates, where anything was."""
    if computed.reading:
        yield "film.json", film_json(computed.reading), "reading of the finish"
    if computed.metal:
        yield "metal.json", metal_json(computed.metal, car), "what is left of the sheet metal"
    if computed.colour:
        both = both_signs(computed.reading, computed.colour) if computed.reading else ()
        yield "colour.json", colour_json(computed.colour, car, both=both), "reading of the colour"
    if computed.polish:
        what = "what passes of polish take and what is left above the floors"
        yield "polish.json", polish_json(computed.polish), what
    if computed.gaps:
        yield "gaps.json", gaps_json(computed.gaps), "how gaps run and whether left mirrors right"
    if computed.history:
        what = "when things happened and which statements clash"
        yield "dates.json", dates_json(computed.history, car), what


def _of_evidence(car: CarFolder, computed: Computed) -> Iterator[_Result]:
    """Weights of evidence, the ledger as found, numbers check and odometer, where there are any."""
    found = computed.originality
    if found is None:
        return
    yield "evidence.json", evidence_json(found.weighed, car), "weights of evidence, item by item"
    yield "ledger.json", ledger_json(found.ledger), "state of every piece as found"
    if found.marks or found.classes:
        aside = {"set_aside": aside_json(car, "identifiers")}
        numbers = numbers_json(found.marks, found.classes) | aside
        yield "numbers.json", numbers, "marks beside what is expected of them"
    if found.odometer:
        aside = {"set_aside": aside_json(car, "odometer")}
        shown = odometer_json(found.odometer) | aside
        yield "odometer.json", shown, "readings that contradict and distances that fit"


def _of_choice(computed: Computed) -> Iterator[_Result]:
    decided = computed.decided
    if decided:
        content = choice_json(
            choice=decided.choice, front=decided.front, whys=decided.whys, clash=decided.clash
        )
        yield "choice.json", content, "choice, front and reasons"
