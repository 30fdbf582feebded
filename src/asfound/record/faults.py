"""What is wrong with an input, told so that a person can mend it."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import AsfoundError


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault: where it is, what stands there, the rule, and the remedy.

    ``row`` counts as a spreadsheet does, the head being row 1; 0 means the file as a whole.
    """

    file: str
    row: int = 0
    column: str = ""
    value: str = ""
    rule: str
    remedy: str

    def __str__(self) -> str:
        """Give the fault as one line."""
        place = self.file + (f", row {self.row}" if self.row else "")
        met = f": {self.column} is {_short(self.value)!r}" if self.column else ""
        return f"{place}{met}; {self.rule}. {self.remedy}"


class InputFaultsError(AsfoundError):
    """The input breaks rules of the car folder; nothing of it was taken.

    Parameters
    ----------
    faults : tuple of Fault
        All that were found, at least one.
    """

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class ChangedMeanwhileError(AsfoundError):
    """Somebody else wrote what this write would have replaced unseen; nothing was written."""


def _short(text: str, *, limit: int = 60) -> str:
    return text if len(text) <= limit else f"{text[: limit - 1]}…"
