"""One mark of a car: read, held against what is expected and against dates, and judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from asfound.base import InputError
from asfound.weigh.numbers.characters import Compared, Verdict, bare, compare
from asfound.weigh.numbers.check_digit import CheckDigit, checked
from asfound.weigh.numbers.order import StageDate, broken_orders

Against = Literal[
    "maker's record",
    "factory build record",
    "other mark on the car",
    "other paper",
    "dates only",
    "other readings of it",
    "check digit",
    "nothing",
]
"""To what a verdict holds a mark; maker's and factory records outrank the car's own marks."""
RECORDS: tuple[str, ...] = (
    "maker's record",
    "factory build record",
    "other mark on the car",
    "other paper",
)
_TO = {
    "maker's record": "the maker's record",
    "factory build record": "the factory build record",
    "other mark on the car": "another mark on the car",
    "other paper": "another paper",
    "check digit": "its check digit",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A mark as one person read it once, and what it is expected to be.

    Parameters
    ----------
    kind, where : str
        Chassis, engine, body …, and the place on the car; together they name the mark.
    text : str
        As read; empty where the mark was looked for and not found.
    expected, source : str
        What a source says, and which; empty where none is known.
    record : str
        What the source is: one of ``RECORDS``; empty where nobody said.
    dates : tuple of StageDate
        Dates that the part bears, and that of the car's build.
    """

    kind: str
    where: str
    text: str
    expected: str = ""
    source: str = ""
    record: str = ""
    dates: tuple[StageDate, ...] = ()

    def __post_init__(self) -> None:
        if self.record and self.record not in RECORDS:
            raise InputError(field="record", got=self.record, allowed=", ".join(RECORDS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One comparison of a mark: to what, the verdict, and why."""

    against: Against
    verdict: Verdict
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedMark:
    """A reading with its checks; the first of them decides.

    ``checks`` begins with the one that the verdict rests on.
    """

    reading: Reading
    checks: tuple[Check, ...]
    digit: CheckDigit | None = None

    @property
    def verdict(self) -> Verdict:
        """What the checks say together."""
        return self.checks[0].verdict

    @property
    def against(self) -> Against:
        """To what the verdict holds the mark."""
        return self.checks[0].against

    @property
    def words(self) -> str:
        """Verdict and to what, such as "same as the factory build record"."""
        return verdict_words(self.verdict, self.against)


def judge(
    reading: Reading,
    *,
    others: tuple[Reading, ...] = (),
    first_year: int | None = None,
    last_year: int | None = None,
    made_for: str = "",
) -> JudgedMark:
    """What a mark says, and to what it was held.

    Parameters
    ----------
    reading : Reading
    others : tuple of Reading
        Other readings of the same mark.
    first_year, last_year : int or None
        Between which years the car was built.
    made_for : str
        Market that the car was made for, where known.

    Notes
    -----
    A conflict comes before everything, then the source, then the dates. Readings of one mark
    that differ never leave more than *consistent*, even where one of them is what was expected:
    whoever reads it a third time may read the other.
    """
    digit = None
    if reading.kind.casefold() == "chassis" and bare(reading.text):
        digit = checked(reading.text, first_year=first_year, last_year=last_year, made_for=made_for)
    source, again = _against_source(reading), _against_others(reading, others)
    if again and source.verdict == "same":
        source = Check(against=source.against, verdict="consistent", why=again.why)
    found = [source, again, _against_dates(reading), _against_digit(digit)]
    checks = [check for check in found if check is not None]
    checks.sort(key=_rank)
    return JudgedMark(reading=reading, checks=tuple(checks), digit=digit)


def verdict_words(verdict: Verdict, against: Against) -> str:
    """Verdict with what it was held to; never a bare verdict."""
    if verdict == "not found":
        held = f"; looked for by {_TO.get(against, against)}"
        return "not found" if against == "nothing" else f"not found{held}"
    return f"{verdict} {'as' if verdict == 'same' else 'with'} {_TO.get(against, against)}"


def _rank(check: Check) -> int:
    """A conflict first; then what says something; then what was not found."""
    if check.verdict == "conflict":
        return 0
    return 2 if check.verdict == "not found" else 1


def _against_source(reading: Reading) -> Check:
    found = compare(read=reading.text, expected=reading.expected)
    if not bare(reading.expected):
        return Check(against="nothing", verdict=found.verdict, why=found.why)
    record = reading.record or "other paper"
    assert record in get_args(Against), "checked when the reading was made"
    return Check(against=record, verdict=found.verdict, why=found.why)  # type: ignore[arg-type]  # just asserted


def _against_others(reading: Reading, others: tuple[Reading, ...]) -> Check | None:
    """How readings of one mark differ; nothing where they agree."""
    differ: list[Compared] = []
    for other in others:
        found = compare(read=reading.text, expected=other.text)
        if found.verdict not in ("same", "not found"):
            differ.append(found)
    if not differ:
        return None
    worst = next((found for found in differ if found.verdict == "conflict"), differ[0])
    return Check(
        against="other readings of it",
        verdict=worst.verdict,
        why=f"the mark was read in two ways ({worst.why}): read it again",
    )


def _against_dates(reading: Reading) -> Check | None:
    stages = {date.stage for date in reading.dates}
    if len(stages) < 2 or stages == {"build"}:
        return None
    broken = broken_orders(reading.dates)
    if broken:
        why = "; ".join(pair.words for pair in broken)
        return Check(against="dates only", verdict="conflict", why=why)
    told = ", ".join(f"{date.stage} {date.text}" for date in reading.dates)
    return Check(against="dates only", verdict="consistent", why=f"in order: {told}")


def _against_digit(digit: CheckDigit | None) -> Check | None:
    if digit is None or digit.outcome == "does not apply":
        return None
    verdict: Verdict = "consistent" if digit.outcome == "agrees" else "conflict"
    return Check(against="check digit", verdict=verdict, why=digit.why)
