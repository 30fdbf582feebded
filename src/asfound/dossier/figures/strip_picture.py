"""What comes off before what as one picture to keep or print, whatever the size of the car."""

from __future__ import annotations

from asfound.dossier.figures.strip_order import strip_svg
from asfound.dossier.figures.strip_sheet import strip_sheet_svg
from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion

NAMES_AT_ONCE = 60
"""A car with more pieces is drawn assembly by assembly."""


def strip_picture_svg(question: StripQuestion, *, way: Way | None = None) -> str:
    """The way to a piece, or the whole car with every assembly open, in its own colours.

    Parameters
    ----------
    question : StripQuestion
    way : Way or None
    """
    if way is not None:
        return strip_svg(question, way=way, only=(*way.first_off, way.piece), theme="print")
    if len(question.assembly.pieces) <= NAMES_AT_ONCE:
        return strip_svg(question, theme="print")
    return strip_sheet_svg(question, is_open=lambda group: True, theme="print")
