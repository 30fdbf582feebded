"""Subjects with their options, as a workshop would quote them for this car.

``tables/treatments.csv`` says what can be done with each kind of piece of size 1, in the order
of cost that small workshops quote (common practice, no source); ``tables/pieces.csv`` says of
which kind and size each piece of this car is. ``tables/own_options.csv`` has what was thought of
for one piece alone, and ``tables/option_colours.csv`` the colour that an option leaves where a
neighbour must not stand out beside it.
"""

from __future__ import annotations

from numpy.random import Generator

from asfound.demo.written import Rows, written

_TRADES = ("mechanic", "painter", "trimmer", "electrician")
_QUOTE_SPREAD = 0.09
"""No two pieces of one size cost the same; standard deviation, of the quote."""


def subject_rows() -> Rows:
    """Rows of ``subjects.csv``."""
    names = ("subject", "weight", "min_grade", "zone", "locked_option")
    return [{name: row[name] for name in names} for row in written("pieces")]


def size_rows() -> Rows:
    """Rows of ``piece_sizes.csv``: size 1 is a piece of the usual size of its kind."""
    return [
        {name: row[name] for name in ("subject", "kind", "size")} | {"unit": "each"}
        for row in written("pieces")
    ]


def option_rows(rng: Generator) -> Rows:
    """Rows of ``options.csv``: the treatments of the subject's kind, times its size."""
    kinds: dict[str, Rows] = {}
    for treatment in written("treatments"):
        kinds.setdefault(treatment["kind"], []).append(treatment)
    quoted = [
        _option(subject, treatment, rng)
        for subject in written("pieces")
        for treatment in kinds[subject["kind"]]
    ]
    colours = {(row["subject"], row["option"]): row for row in written("option_colours")}
    return [
        row
        | {axis: colours.get((row["subject"], row["option"]), {}).get(axis, "") for axis in "Lab"}
        for row in (*quoted, *written("own_options"))
    ]


def _option(subject: dict[str, str], treatment: dict[str, str], rng: Generator) -> dict[str, str]:
    size = float(subject["size"]) * max(0.7, rng.normal(1, _QUOTE_SPREAD))
    return {
        "subject": subject["subject"],
        "option": treatment["option"],
        "treatment": treatment["treatment"],
        "kept": treatment["kept"],
        "grade": treatment["grade"],
        "cost": f"{5 * round(float(treatment['cost']) * size / 5)}",
        "safe": treatment["safe"],
        "undoable": treatment["undoable"],
        **{f"hours_{trade}": _quarter_hours(float(treatment[trade]) * size) for trade in _TRADES},
    }


def _quarter_hours(hours: float) -> str:
    return f"{round(hours * 4) / 4:g}"
