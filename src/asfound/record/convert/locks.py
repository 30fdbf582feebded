"""Why people locked what they locked, and who would not have."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class LockReason:
    """A lock of a piece with its reason; by whom and when are empty where it is not told."""

    subject: str
    option: str
    reason: str
    by: str
    day: str

    @property
    def words(self) -> str:
        """The lock as one sentence without its full stop.

        Examples
        --------
        >>> LockReason(subject="seats", option="mend", reason="first hide", by="Issy", day="").words
        'locked by Issy: “first hide”'
        """
        return f"locked{_by(self.by, self.day)}: “{self.reason}”"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dissent:
    """What a person who would have decided otherwise says to a lock."""

    subject: str
    option: str
    saying: str
    by: str
    day: str

    @property
    def words(self) -> str:
        """The dissent as one sentence without its full stop."""
        return f"dissent{_by(self.by, self.day)}: “{self.saying}”"


def lock_reasons(car: CarFolder) -> dict[str, LockReason]:
    """Locks for which a reason is told, by piece."""
    return {
        row.text("subject"): LockReason(
            subject=row.text("subject"),
            option=row.text("option"),
            reason=row.text("reason"),
            by=row.text("by"),
            day=row.text("locked_on"),
        )
        for row in car.sheet("locks")
    }


def dissents_now(car: CarFolder) -> dict[str, tuple[Dissent, ...]]:
    """Dissents from the locks that stand, by piece.

    One from a lock that was released or gave way to another is kept and speaks of nothing now.
    """
    locked = {row.text("subject"): row.text("locked_option") for row in car.sheet("subjects")}
    found: dict[str, tuple[Dissent, ...]] = {}
    for row in car.sheet("dissents"):
        subject, option = row.text("subject"), row.text("option")
        if option and locked.get(subject) == option:
            said = Dissent(
                subject=subject,
                option=option,
                saying=row.text("words"),
                by=row.text("by"),
                day=row.text("said_on"),
            )
            found[subject] = (*found.get(subject, ()), said)
    return found


def decided_words(car: CarFolder) -> dict[str, tuple[str, ...]]:
    """Why each piece was locked and who would not have, in words, by piece."""
    reasons, dissents = lock_reasons(car), dissents_now(car)
    return {
        subject: (
            *((reasons[subject].words,) if subject in reasons else ()),
            *(one.words for one in dissents.get(subject, ())),
        )
        for subject in dict.fromkeys([*reasons, *dissents])
    }


def _by(who: str, day: str) -> str:
    return (f" by {who}" if who else "") + (f" on {day}" if day else "")
