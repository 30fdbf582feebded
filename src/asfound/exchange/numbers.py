"""A number as people write it: decimal point or comma, and marks for thousands."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from asfound.record.tables import Column, Form

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_DECIMAL_COMMA = re.compile(r"[+-]?(\d+,\d*|,\d+)([eE][+-]?\d+)?")
_THOUSANDS = re.compile(r"[+-]?\d{1,3}([.,' \u00a0\u202f]\d{3})+([.,]\d+)?")
_EITHER = re.compile(r"\+?[1-9]\d{0,2}[.,]\d{3}")
_OWN_UNIT = {"µm": r"[µμu]m", "mm": "mm"}
"""Units that a gauge or a hand writes behind its number, in each spelling."""
_ASKED_BACK = "µm"
"""A film of 1.234 µm and one of 1234 µm are both lawful; a place in mm is seen on the panel."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a cell cannot be taken: the rule it breaks and the remedy."""

    rule: str
    remedy: str


def number_text(
    text: str, column: Column, *, separator: str, found: str = "", told: str = ""
) -> str | Refusal:
    """Number with a decimal point and no mark for thousands, or why it cannot be told.

    Parameters
    ----------
    text : str
    column : Column
        Its unit and bounds say whether thousands are possible.
    separator : str
        What parts the columns of the file.
    found : str
        The decimal mark that other numbers of the file show beyond doubt; empty for none.
    told : str
        The decimal mark that a person says the file has; empty for none.
    """
    if _THOUSANDS.fullmatch(text):
        if told:
            text = re.sub(rf"[^\d+{re.escape(told)}-]", "", text)
        elif _is_ambiguous(text, column, separator, found):
            return _ask_back(text, column)
    if _DECIMAL_COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if not _PLAIN.fullmatch(text) or not math.isfinite(float(text)):
        unit = f" in {column.unit}" if column.unit else ""
        return Refusal(f"{column.name} must be a number{unit}", "Write digits only, no unit.")
    if column.form is Form.INTEGER and not float(text).is_integer():
        return Refusal(f"{column.name} must be a whole number", "Round it, or correct the cell.")
    return text


def without_unit(text: str, column: Column) -> str:
    """Number without the column's own unit behind it; any other unit stays, and is refused.

    Only for what comes from a gauge or a hand: the tables of a car folder hold numbers alone.

    Examples
    --------
    >>> film = Column(name="thickness_um", form=Form.NUMBER, unit="µm")
    >>> without_unit("123 µm", film), without_unit("4.9 mil", film)
    ('123', '4.9 mil')
    """
    unit = _OWN_UNIT.get(column.unit or "")
    return re.sub(rf"(?<=\d)\s*{unit}$", "", text, flags=re.IGNORECASE) if unit else text


def found_mark(cells: Iterable[tuple[str, Column]]) -> str:
    """Decimal mark that numbers show beyond doubt; empty where none does, or both do.

    Examples
    --------
    >>> column = Column(name="thickness_um", form=Form.NUMBER, unit="µm", least=0, most=50_000)
    >>> found_mark([("1.234", column)]), found_mark([("1.234", column), ("455.123", column)])
    ('', '.')
    """
    marks = set()
    for text, column in cells:
        if column.form is Form.NUMBER and not _could_be_thousands(text, column):
            if "." in text and _PLAIN.fullmatch(text):
                marks.add(".")
            elif _DECIMAL_COMMA.fullmatch(text):
                marks.add(",")
    return marks.pop() if len(marks) == 1 else ""


def _could_be_thousands(text: str, column: Column) -> bool:
    if not _EITHER.fullmatch(text):
        return False
    value = float(re.sub(r"[^\d]", "", text))
    return column.most is None or value <= column.most


def _is_ambiguous(text: str, column: Column, separator: str, found: str) -> bool:
    """One mark before three digits can be either, unless the file shows which it is.

    1,234 is a decimal comma only where commas do not part the columns; a place of 1.234 mm is
    plain everywhere, a film of 1.234 µm is not.
    """
    marks = set(re.sub(r"[\d+-]", "", text))
    if len(marks) != 1 or not marks <= {".", ","} or sum(text.count(m) for m in marks) > 1:
        return True
    if marks == {","} and separator == ",":
        return True
    is_asked = column.unit == _ASKED_BACK and _could_be_thousands(text, column)
    return is_asked and found not in marks


def _ask_back(text: str, column: Column) -> Refusal:
    rule = f"{column.name} could be read with a decimal mark or with a mark for thousands"
    if _EITHER.fullmatch(text):
        digits = re.sub(r"[^\d]", "", text)
        decimals = f"{digits[:-3]}.{digits[-3:]}0"
        return Refusal(rule, f"Write {digits} for thousands, or {decimals} for decimals.")
    return Refusal(rule, "Write it without a mark for thousands, and a point for decimals.")
