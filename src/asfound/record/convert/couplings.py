"""Rows that tie whole pieces become seams and openings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from statistics import fmean

from asfound.base import InputError
from asfound.choose import Opening, Seam, grade_steps
from asfound.measure.colour.difference import delta_e00
from asfound.measure.colour.readings import one_viewing
from asfound.record.convert.colour import colour_survey
from asfound.record.folder import CarFolder, Row

Lab = tuple[float, float, float]
KEEPS_THE_FINISH = frozenset(
    {"leave as found", "preventive care", "stabilise", "repair", "overhaul"}
)
"""Treatments after which the colour that was read may be taken to stand: they touch no finish
(``treatments.csv``); cleaning and all that renews a finish need a colour of their own."""


def seams_of(car: CarFolder) -> tuple[Seam, ...]:
    """The seams of the car: one for each step that a row limits."""
    rows = [row for row in car.sheet("option_links") if row.text("kind") == "seam"]
    if not rows:
        return ()
    options: defaultdict[str, dict[str, Row]] = defaultdict(dict)
    for row in car.sheet("options"):
        options[row.text("subject")][row.text("option")] = row
    colours = _option_colours(car, options) if any(r.text("most_colour_step") for r in rows) else {}
    return tuple(seam for row in rows for seam in _seams(row, options, colours))


def _seams(
    row: Row, options: Mapping[str, Mapping[str, Row]], colours: Mapping[str, Mapping[str, Lab]]
) -> Iterator[Seam]:
    one, two = row.text("subject"), row.text("other_subject")
    if row.text("most_grade_step"):
        grades = [{o: r.number("grade") for o, r in options[name].items()} for name in (one, two)]
        yield Seam(
            subject=one,
            other_subject=two,
            measure="grade",
            most=row.number("most_grade_step"),
            steps=grade_steps(*grades),
            why=row.text("why"),
        )
    if row.text("most_colour_step"):
        yield Seam(
            subject=one,
            other_subject=two,
            measure="colour",
            most=row.number("most_colour_step"),
            steps=_colour_steps(colours.get(one, {}), colours.get(two, {})),
            why=row.text("why"),
        )


def _colour_steps(
    here: Mapping[str, Lab], there: Mapping[str, Lab]
) -> dict[tuple[str, str], float]:
    return {
        (a, b): round(delta_e00(lab, other), 4)
        for a, lab in here.items()
        for b, other in there.items()
    }


def _option_colours(
    car: CarFolder, options: Mapping[str, Mapping[str, Row]]
) -> dict[str, dict[str, Lab]]:
    """The colour that each option leaves: its own, or the one read where no finish is touched."""
    read = _read_colours(car)
    found: dict[str, dict[str, Lab]] = {}
    for subject, own in options.items():
        for option, row in own.items():
            lab = _lab(row)
            if lab is None and row.text("treatment") in KEEPS_THE_FINISH:
                lab = read.get(subject)
            if lab is not None:
                found.setdefault(subject, {})[option] = lab
    return found


def _lab(row: Row) -> Lab | None:
    if not all(row.text(column) for column in ("L", "a", "b")):
        return None
    return row.number("L"), row.number("a"), row.number("b")


def _read_colours(car: CarFolder) -> dict[str, Lab]:
    """The mean colour read where the eye sees it; none when lights or observers differ."""
    if not len(car.sheet("colour")):
        return {}
    readings = [r for r in colour_survey(car).readings if r.exposure == "exposed"]
    try:
        one_viewing(r.viewing for r in readings)
    except InputError:
        return {}
    groups: defaultdict[str, list[Lab]] = defaultdict(list)
    for reading in readings:
        groups[reading.subject].append((reading.l_star, reading.a_star, reading.b_star))
    return {subject: _mean(group) for subject, group in groups.items()}


def _mean(group: Sequence[Lab]) -> Lab:
    light, red, yellow = (fmean(values) for values in zip(*group, strict=True))
    return light, red, yellow


def openings_of(car: CarFolder) -> tuple[Opening, ...]:
    """What comes off once for all who need it off."""
    users: defaultdict[str, dict[tuple[str, str], None]] = defaultdict(dict)
    hours: defaultdict[str, dict[str, float]] = defaultdict(dict)
    cost: dict[str, float] = {}
    why: dict[str, str] = {}
    for row in car.sheet("option_links"):
        if row.text("kind") != "needs off":
            continue
        thing = row.text("other_subject")
        users[thing][row.text("subject"), row.text("option")] = None
        cost[thing] = max(cost.get(thing, 0.0), row.number("saves_cost", default=0.0))
        why.setdefault(thing, row.text("why"))
        if row.text("trade"):
            hours[thing][row.text("trade")] = row.number("saves_hours", default=0.0)
    return tuple(
        Opening(
            thing=thing, users=tuple(keys), cost=cost[thing], hours=hours[thing], why=why[thing]
        )
        for thing, keys in users.items()
    )
