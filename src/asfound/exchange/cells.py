"""One cell against its column's rule: the text as kept, or the fault."""

from __future__ import annotations

import shapely

from asfound.exchange.numbers import Refusal, number_text
from asfound.record.convert.edtf_days import edtf_days
from asfound.record.tables import Column, Form

__all__ = ["Refusal", "check_cell"]

_YES = {"yes", "y", "true", "1"}
_NO = {"no", "n", "false", "0"}


def check_cell(
    text: str, column: Column, *, separator: str, found: str = "", told: str = ""
) -> str | Refusal:
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
    found, told : str
        The decimal mark that the file shows beyond doubt, and the one that a person says it has;
        empty where there is none.
    """
    if not text:
        if column.blank:
            return ""
        return Refusal(
            f"{column.name} must be filled in every row", "Fill the cell or delete the row."
        )
    if column.form in (Form.NUMBER, Form.INTEGER):
        number = number_text(text, column, separator=separator, found=found, told=told)
        return number if isinstance(number, Refusal) else _within(number, column)
    if column.form is Form.YES_NO:
        return _yes_or_no(text, column)
    if column.form is Form.DATE:
        return _date(text, column)
    if column.form is Form.POLYGON:
        return _polygon(text, column)
    return _words(text, column)


def _within(text: str, column: Column) -> str | Refusal:
    value, unit = float(text), f" {column.unit}" if column.unit else ""
    if column.above is not None and value <= column.above:
        return Refusal(f"{column.name} must be above {column.above:g}{unit}", _remedy(column))
    if column.below is not None and value >= column.below:
        return Refusal(f"{column.name} must be below {column.below:g}{unit}", _remedy(column))
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
    if column.name == "lr":
        return "Say how many times more probable the item is; below 1 it speaks against."
    return "Correct the cell, or check the unit of the column."


def _yes_or_no(text: str, column: Column) -> str | Refusal:
    if text.lower() in _YES:
        return "yes"
    if text.lower() in _NO:
        return "no"
    return Refusal(f"{column.name} must be yes or no", "Write yes or no, or leave it empty.")


def _date(text: str, column: Column) -> str | Refusal:
    try:
        first, last = edtf_days(text)
    except ValueError:
        return Refusal(
            f"{column.name} must be a date as EDTF writes it (ISO 8601-2)",
            "Write for example 1961, 1961-05, 1961~ (about), 1958/1963 or ../1970.",
        )
    if first is not None and last is not None and first > last:
        return Refusal(
            f"{column.name} must not end before it begins", "Write the earlier date first."
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
