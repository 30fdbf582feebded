"""Subjects, options, links and brief of a car become a choice to be made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from asfound.choose.brief import Brief
from asfound.choose.notices import circles
from asfound.choose.problem import Link, Option, Problem, Subject
from asfound.record.convert.begun import Begun, begun_pieces
from asfound.record.convert.brief_terms import Grounds, grounds_of, names_in
from asfound.record.convert.coupling_faults import coupling_faults
from asfound.record.convert.couplings import openings_of, seams_of
from asfound.record.convert.significance import PieceWeight, Weights
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row

_HOURS = "hours_"
_TIES = ("requires", "excludes", "shares", "waits")


def choice_problem(car: CarFolder) -> Problem:
    """The choice over the whole car.

    A subject weighs what a person typed into ``subjects``, else what its graded criteria make,
    else 1. One that ``subjects`` does not list has no floor; one that is listed but
    has no option is left out, for nothing can be chosen there. One on which work has begun says so.

    Raises
    ------
    InputFaultsError
        If the car has no option at all, no subject has any weight, or a tie names too little.
    """
    faults = tuple(coupling_faults(car.sheets))
    if faults:
        raise InputFaultsError(faults)
    options = tuple(_option(row) for row in car.sheet("options"))
    if not options:
        raise _fault(
            "options.csv",
            "the car has no option, so there is nothing to choose from",
            "Add options.csv with subject, option, treatment, kept, grade, cost.",
        )
    subjects = _subjects(car, dict.fromkeys(option.subject for option in options))
    if not any(subject.weight for subject in subjects):
        raise _fault(
            "subjects.csv",
            "every subject has weight 0, so no choice keeps more than another",
            "Give at least one subject a weight above 0.",
        )
    links = tuple(_link(row) for row in car.sheet("option_links") if row.text("kind") in _TIES)
    _check_waits(car, links)
    return Problem(
        subjects=subjects,
        options=options,
        links=links,
        brief=_brief(car.brief or {}),
        seams=seams_of(car),
        openings=openings_of(car),
    )


def _option(row: Row) -> Option:
    hours = {
        column.removeprefix(_HOURS): row.number(column, default=0.0)
        for column in row.cells
        if column.startswith(_HOURS)
    }
    return Option(
        subject=row.text("subject"),
        option=row.text("option"),
        treatment=row.text("treatment"),
        kept=row.number("kept"),
        grade=row.number("grade"),
        cost=row.number("cost"),
        hours=hours,
        safe=row.flag("safe", default=True),
        undoable=row.text("undoable") or "partly",  # type: ignore[arg-type]  # checked on reading
    )


def _subjects(car: CarFolder, named: Iterable[str]) -> tuple[Subject, ...]:
    begun, grounds, weights = begun_pieces(car), grounds_of(car), Weights(car)
    listed = {row.text("subject"): row for row in car.sheet("subjects")}
    unlisted = Row({}, 0)
    return tuple(
        _subject(weights.of(name), name, listed.get(name, unlisted), begun.get(name), grounds)
        for name in named
    )


def _subject(
    weight: PieceWeight, name: str, row: Row, begun: Begun | None, grounds: Grounds
) -> Subject:
    return Subject(
        subject=name,
        weight=weight.value,
        min_grade=row.number("min_grade", default=0.0),
        zone=row.text("zone"),
        locked_option=row.text("locked_option"),
        begun=begun.words if begun else "",
        vital=name in grounds.vital,
        has_evidence=name in grounds.with_evidence,
    )


def _link(row: Row) -> Link:
    return Link(
        kind=row.text("kind"),  # type: ignore[arg-type]  # checked on reading
        subject=row.text("subject"),
        option=row.text("option"),
        other_subject=row.text("other_subject"),
        other_option=row.text("other_option"),
        saves_cost=row.number("saves_cost", default=0.0),
        saves_hours=row.number("saves_hours", default=0.0),
        trade=row.text("trade"),
        why=row.text("why"),
    )


def _brief(content: Mapping[str, Any]) -> Brief:
    def limits(key: str) -> dict[str, float]:
        return {k: float(v) for k, v in (content.get(key) or {}).items() if v is not None}

    cost_max = content.get("cost_max")
    return Brief(
        name=content.get("name") or "",
        cost_max=None if cost_max is None else float(cost_max),
        hours_max=limits("hours_max"),
        min_grade=limits("min_grade"),
        note=content.get("note") or "",
        untouched=names_in(content, "untouched"),
        needs_evidence=names_in(content, "needs_evidence"),
    )


def _check_waits(car: CarFolder, links: tuple[Link, ...]) -> None:
    for keys in circles(links, kinds=("waits",)):
        names = ", ".join(f"{subject} '{option}'" for subject, option in keys)
        closing = [row for row in car.sheet("option_links") if _waits_within(row, keys)][-1]
        raise InputFaultsError(
            (
                Fault(
                    file="option_links.csv",
                    row=closing.number_in_file,
                    column="other_option",
                    value=closing.text("other_option"),
                    rule=f"{names} wait for each other, so none of them could begin",
                    remedy="Take out the row that is least true.",
                ),
            )
        )


def _waits_within(row: Row, keys: Sequence[tuple[str, str]]) -> bool:
    ends = (("subject", "option"), ("other_subject", "other_option"))
    return row.text("kind") == "waits" and all(
        (row.text(subject), row.text(option)) in keys for subject, option in ends
    )


def _fault(file: str, rule: str, remedy: str) -> InputFaultsError:
    return InputFaultsError((Fault(file=file, rule=rule, remedy=remedy),))
