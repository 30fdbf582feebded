"""What the record of a car does not hold yet, in words."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.record.folder import CarFolder

_NAMED = 4
_TABLES = {
    "identifiers": "no number is read: chassis, engine, body, paint",
    "panels": "no panel is drawn, so there is no map",
    "film": "no reading of the finish",
    "options": "no options, so nothing can be chosen",
    "parts": "no list of parts",
    "findings": "no findings",
}


def missing(folder: CarFolder) -> list[str]:
    """Tables without a row, panels without a reading, gauges without shims, no brief, no photo."""
    return [
        *(words for name, words in _TABLES.items() if not len(folder.sheet(name))),
        *_unmeasured(folder),
        *_unchecked_gauges(folder),
        *([] if folder.brief else ["no brief: the choice has no limit"]),
        *([] if folder.files else ["no photograph"]),
    ]


def _unmeasured(folder: CarFolder) -> Iterator[str]:
    measured = {row.text("panel") for row in folder.sheet("film")}
    blank = [r.text("panel") for r in folder.sheet("panels") if r.text("panel") not in measured]
    if blank and measured:
        yield f"no reading on {_some(blank)}"


def _unchecked_gauges(folder: CarFolder) -> Iterator[str]:
    checked = {row.text("gauge") for row in folder.sheet("shims")}
    used = dict.fromkeys(row.text("gauge") for row in folder.sheet("film"))
    blind = [gauge or "the gauge without a name" for gauge in used if gauge not in checked]
    if blind:
        yield f"no shim readings of {_some(blind)}: its offset and slope are not known"


def _some(names: list[str]) -> str:
    shown = ", ".join(names[:_NAMED])
    rest = len(names) - _NAMED
    return f"{shown} and {rest} more" if rest > 0 else shown
