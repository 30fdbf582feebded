"""The few ways in which a computation can refuse, each with what the caller needs to mend it."""

from __future__ import annotations


class AsfoundError(Exception):
    """Root of everything the program raises on purpose."""


class InputError(AsfoundError, ValueError):
    """A number or name that a rule forbids.

    Parameters
    ----------
    field : str
        Which input, with its unit suffix.
    got : object
        The value met.
    allowed : str
        The rule, as the end of the sentence "must be …".
    remedy : str
        What to do about it; may be empty.
    """

    def __init__(self, *, field: str, got: object, allowed: str, remedy: str = "") -> None:
        self.field, self.got, self.allowed, self.remedy = field, got, allowed, remedy
        super().__init__(
            f"{field} is {got!r}; it must be {allowed}.{' ' + remedy if remedy else ''}"
        )


class NotEnoughEvidenceError(AsfoundError):
    """The input is lawful but says too little for an answer; the text says what is missing."""


class NoSolutionError(AsfoundError):
    """No answer can satisfy the requirements.

    Parameters
    ----------
    clash : tuple of str
        The requirements that cannot hold together, in words.
    ways : tuple of str
        Ways out in words, each of which is enough; empty where none was looked for.
    """

    def __init__(self, message: str, *, clash: tuple[str, ...], ways: tuple[str, ...] = ()) -> None:
        self.clash, self.ways = clash, ways
        super().__init__(message)


class StoppedError(AsfoundError):
    """The person who started the work stopped it; nothing was written."""


class EnoughError(StoppedError):
    """The person who started the work wants no more than the best that was found so far."""
