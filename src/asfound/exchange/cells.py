"""One cell against its column's rule: the text as kept, or the fault."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import shapely
from edtf import parse_edtf
from edtf.parser import parser_classes
from edtf.parser.edtf_exceptions import EDTFParseException

from asfound.record.tables import Column, Form

# Where the parser stumbles it prints, and standard output is for results alone.
vars(parser_classes)["print"] = lambda *_: None

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_DECIMAL_COMMA = re.compile(r"[+-]?(\d+,\d*|,\d+)([eE][+-]?\d+)?")
_THOUSANDS = re.compile(r"[+-]?\d{1,3}([.,' \u00a0\u202f]\d{3})+([.,]\d+)?")
_YES = {"yes", "y", "true", "1"}
_NO = {"no", "n", "false", "0"}


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a cell cannot be taken: the rule it breaks and the remedy."""

    rule: str
    remedy: str


def check_cell(text: str, column: Column, *, separator: str) -> str | Refusal:
    """Text of the cell as the record keeps it, or why it cannot be taken.

    Parameters
    ----------
    text : str
        The cell, stripped.
    column : Column
        Its rule.
    separator : str
        What parts the columns of this file; between commas a number with a comma and three
        digits could mean thousands and is refused.
    """
    if not text:
        if column.blank:
            return ""
        return Refusal(
            f"{column.name} must be filled in every row", "Fill the cell or delete the row."
        )
    if column.form in (Form.NUMBER, Form.INTEGER):
        return _number(text, column, separator)
    if column.form is Form.YES_NO:
        return _yes_or_no(text, column)
    if column.form is Form.DATE:
        return _date(text, column)
    if column.form is Form.POLYGON:
        return _polygon(text, column)
    return _words(text, column)


def _number(text: str, column: Column, separator: str) -> str | Refusal:
    if _THOUSANDS.fullmatch(text) and _is_ambiguous(text, separator):
        return Refusal(
            f"{column.name} could be read with a decimal mark or with a mark for thousands",
            "Write it without a mark for thousands, and a point for decimals.",
        )
    if _DECIMAL_COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if not _PLAIN.fullmatch(text) or not math.isfinite(float(text)):
        unit = f" in {column.unit}" if column.unit else ""
        return Refusal(f"{column.name} must be a number{unit}", "Write digits only, no unit.")
    if column.form is Form.INTEGER and not float(text).is_integer():
        return Refusal(f"{column.name} must be a whole number", "Round it, or correct the cell.")
    return _within(text, column)


def _is_ambiguous(text: str, separator: str) -> bool:
    """1.234 is a plain number everywhere; 1,234 is a decimal comma unless commas part columns."""
    marks = set(re.sub(r"[\d+-]", "", text))
    if marks == {"."}:
        return text.count(".") > 1
    if marks == {","}:
        return separator == "," or text.count(",") > 1
    return True


def _within(text: str, column: Column) -> str | Refusal:
    value, unit = float(text), f" {column.unit}" if column.unit else ""
    if column.least is not None and value < column.least:
        if column.least == 0:
            rule = f"{column.name} cannot be negative"
        else:
            rule = f"{column.name} must be {column.least:g}{unit} or more"
        return Refusal(rule, _remedy(column))
    if column.most is not None and value > column.most:
        return Refusal(f"{column.name} must be {column.most:g}{unit} or less", _remedy(column))
    return text


def _remedy(column: Column) -> str:
    if column.name == "thickness_um":
        return "Check the gauge's zero and its unit (µm), or delete the row."
    return "Correct the cell, or check the unit of the column."


def _yes_or_no(text: str, column: Column) -> str | Refusal:
    if text.lower() in _YES:
        return "yes"
    if text.lower() in _NO:
        return "no"
    return Refusal(f"{column.name} must be yes or no", "Write yes or no, or leave it empty.")


def _date(text: str, column: Column) -> str | Refusal:
    try:
        parse_edtf(text)
    except (EDTFParseException, ValueError, TypeError):  # it stumbles over "../" and the like
        return Refusal(
            f"{column.name} must be a date as EDTF writes it (ISO 8601-2)",
            "Write for example 1961, 1961-05, 1961~ (about), 1958/1963 or ../1970.",
        )
    return text


def _polygon(text: str, column: Column) -> str | Refusal:
    try:
        shape = shapely.from_wkt(text)
    except shapely.errors.GEOSException:
        shape = None
    if not isinstance(shape, shapely.Polygon) or shape.is_empty:
        return Refusal(
            f"{column.name} must be a WKT polygon in mm",
            "Write for example POLYGON ((0 0, 900 0, 900 600, 0 600, 0 0)).",
        )
    if not shape.is_valid:
        reason = shapely.is_valid_reason(shape)
        return Refusal(
            f"{column.name} must be a polygon whose edge does not cross itself ({reason})",
            "Put the corners in the order in which they follow round the panel.",
        )
    if shape.area <= 0:
        return Refusal(f"{column.name} must enclose an area", "Give the corners of the panel.")
    return text


def _words(text: str, column: Column) -> str | Refusal:
    if not column.words or text in column.words:
        return text
    if text.lower() in column.words:
        return text.lower()
    allowed = ", ".join(column.words)
    return Refusal(f"{column.name} must be one of: {allowed}", "Correct the word.")
