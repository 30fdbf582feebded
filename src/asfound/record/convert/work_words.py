"""Work in words: hours, materials with their batch, results with their tool."""

from __future__ import annotations

from collections.abc import Mapping

Cells = Mapping[str, str]


def hours_words(hours: float) -> str:
    """Hours and minutes.

    Examples
    --------
    >>> hours_words(1.75), hours_words(0.5)
    ('1 h 45 min', '30 min')
    """
    whole, minutes = divmod(round(hours * 60), 60)
    told = [f"{whole} h"] * bool(whole) + [f"{minutes} min"] * bool(minutes or not whole)
    return " ".join(told)


def material_words(cells: Cells) -> str:
    """What was used, how much, and of which batch."""
    amount = " ".join(word for word in (cells.get("amount", ""), cells.get("unit", "")) if word)
    told = [cells.get("material", ""), amount, f"batch {cells.get('batch', '')}", _note(cells)]
    return ", ".join(word for word in told if word)


def result_words(cells: Cells) -> str:
    """What was measured, with which tool, and whether it lies where it is to lie."""
    unit, least, most = cells.get("unit", ""), cells.get("least", ""), cells.get("most", "")
    told = f"{cells.get('kind', '')} {cells.get('value', '')} {unit}"
    if least and most:
        told += f" (to be {least} to {most} {unit})"
    elif least or most:
        told += f" (to be {f'{least} or more' if least else f'{most} or less'} {unit})"
    if is_out(cells):
        told += ", outside of that"
    return ", ".join(w for w in (told, f"with {cells.get('tool', '')}", _note(cells)) if w)


def is_out(cells: Cells) -> bool:
    """Whether a result lies outside of what it is to be."""
    value = float(cells.get("value") or "nan")
    least, most = cells.get("least", ""), cells.get("most", "")
    return bool(least and value < float(least)) or bool(most and value > float(most))


def _note(cells: Cells) -> str:
    return cells.get("note", "")
