"""Numbers, seams and links as people write them."""

from __future__ import annotations

from asfound.choose.couplings import Seam
from asfound.choose.problem import Link


def number(value: float) -> str:
    """A number as people write it: thousands apart, no needless zeros, up to six decimals.

    Examples
    --------
    >>> number(12000.0), number(7.5)
    ('12,000', '7.5')
    """
    text = f"{value:,.6f}"
    return text.rstrip("0").rstrip(".")


def seam_in_words(seam: Seam) -> str:
    """A seam in words, with its reason."""
    reason = f": {seam.why}" if seam.why else ""
    most = step_in_words(seam, seam.most)
    return f"{seam.subject} and {seam.other_subject} at most {most} apart at their seam{reason}"


def step_in_words(seam: Seam, step: float) -> str:
    """A step of a seam with what it is a step of."""
    if seam.measure == "colour":
        return f"ΔE00 {number(step)}"
    return f"{number(step)} {'grade' if step == 1 else 'grades'}"


def in_words(link: Link) -> str:
    """A ``requires``, ``excludes`` or ``waits`` row in words, with its reason."""
    reason = f": {link.why}" if link.why else ""
    if not link.other_option:
        there = f"waits until {link.other_subject} is decided"
        return f"{link.subject} '{link.option}' {there}{reason}"
    verb = "waits for" if link.kind == "waits" else link.kind
    return (
        f"{link.subject} '{link.option}' {verb} {link.other_subject} '{link.other_option}'{reason}"
    )
