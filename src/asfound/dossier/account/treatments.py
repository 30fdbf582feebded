"""What was done to each piece, as a treatment record tells it.

AIC's Guidelines for Practice ask that a record of treatment gives the date, the people, materials
and methods with their effect, and photographs before and after.
"""

from __future__ import annotations

from typing import Any

from asfound.dossier.numbers import MISSING
from asfound.record.convert.treated import Treated, treated
from asfound.record.convert.work_words import hours_words
from asfound.record.folder import CarFolder


def about_treatments(car: CarFolder) -> dict[str, Any] | None:
    """Pieces that were worked on; ``None`` where nothing was written down of any work.

    Parameters
    ----------
    car : CarFolder
    """
    there = [_piece(one) for one in treated(car)]
    return {"pieces": there} if there else None


def _piece(one: Treated) -> dict[str, Any]:
    decided = f"{one.treatment}: {one.option}" if one.treatment else "no decision signed"
    return {
        "name": one.subject,
        "facts": [
            ["decided", decided],
            ["done", ", ".join(one.tasks) or MISSING],
            ["by", ", ".join(one.people) or MISSING],
            ["when (UTC)", _days(one)],
            ["hours", hours_words(one.hours) if one.people else MISSING],
            ["photographs", _photographs(one)],
        ],
        "materials": list(one.materials),
        "results": list(one.results),
    }


def _days(one: Treated) -> str:
    first = one.first.isoformat() if one.first else MISSING
    last = one.last.isoformat() if one.last else ""
    told = first if last in {"", first} else f"{first} to {last}"
    return f"{told}, not finished" if one.goes_on else told


def _photographs(one: Treated) -> str:
    told = f"{one.before_n} before, {one.after_n} after"
    return "; ".join([told, *(f"none taken: {why}" for why in one.unpictured)])
