"""A length in the unit that the head of its column names, brought to the unit of the table."""

from __future__ import annotations

import re

from asfound.exchange.numbers import Refusal, number_text
from asfound.record.tables import Column, Form

_IN_UM = {"µm": 1.0, "mil": 25.4, "mm": 1e3, "cm": 1e4, "inch": 25_400.0}
"""The inch is 25.4 mm exactly (yard and pound agreement of 1959, from memory), a mil 0.001 inch."""
_SAID = {
    "µm": r"[µμu]m|microns?|micrometers?|micrometres?",
    "mil": r"mils?|thou",
    "mm": r"mm|millimeters?|millimetres?",
    "cm": r"cm|centimeters?|centimetres?",
    "inch": r"inch(?:es)?",
}
_AT_THE_END = re.compile(r"(?<![a-z])in\W*$")
"""“in” is a unit only where nothing follows: “measured in mm” is not in inches."""


def said_unit(head: str) -> str:
    """Unit of length that the head of a column names; empty for none, or for more than one.

    Examples
    --------
    >>> said_unit("Thickness (mils)"), said_unit("x_in"), said_unit("measured in mm")
    ('mil', 'inch', 'mm')
    >>> said_unit("thickness"), said_unit("film, mil or µm")
    ('', '')
    """
    text = head.lower()
    said = [u for u, words in _SAID.items() if re.search(rf"(?<![a-z])({words})(?![a-z])", text)]
    if not said and _AT_THE_END.search(text):
        said = ["inch"]
    return said[0] if len(said) == 1 else ""


def times(head: str, column: Column) -> float:
    """What the numbers below a head are multiplied by; 1 where it names the column's own unit.

    Examples
    --------
    >>> film = Column(name="thickness_um", form=Form.NUMBER, unit="µm")
    >>> times("Thickness (mils)", film), times("Thickness (µm)", film), times("Thickness", film)
    (25.4, 1.0, 1.0)
    """
    unit = said_unit(head)
    if column.form is not Form.NUMBER or column.unit not in _IN_UM or not unit:
        return 1.0
    return _IN_UM[unit] / _IN_UM[column.unit]


def in_own_unit(text: str, head: str, column: Column, *, separator: str, mark: str) -> str | None:
    """Number brought to the column's unit; ``None`` for what is no plain number.

    Parameters
    ----------
    text, head : str
        The cell, and the head above it.
    column : Column
    separator, mark : str
        What parts the columns, and the decimal mark that is known; empty for none.

    Examples
    --------
    >>> film = Column(name="thickness_um", form=Form.NUMBER, unit="µm", least=0, most=50_000)
    >>> in_own_unit("4,9 mil", "Thickness (mils)", film, separator=";", mark="")
    '124.46'
    """
    unit = said_unit(head)
    bare = re.sub(rf"(?<=\d)\s*(?:{_SAID[unit]})$", "", text, flags=re.IGNORECASE) if unit else text
    number = number_text(bare, column, separator=separator, told=mark)
    if isinstance(number, Refusal):
        return None
    return f"{float(number) * times(head, column):.10g}"
