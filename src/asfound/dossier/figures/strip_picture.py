"""What comes off before what as one picture to keep or print, whatever the size of the car."""

from __future__ import annotations

from asfound.dossier.figures.strip_layers import needed
from asfound.dossier.figures.strip_order import strip_svg
from asfound.dossier.figures.strip_piece import Address, ties_of
from asfound.dossier.figures.strip_rails import strip_rails_svg
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


def way_svgs(
    question: StripQuestion, way: Way, *, address: Address | None = None
) -> tuple[str, str]:
    """The way to a piece as a page shows it: wide, with what the piece frees; and as rails.

    Parameters
    ----------
    question : StripQuestion
    way : Way
    address : callable, optional
        Gives the address behind a piece's name.
    """
    gone = (*way.first_off, way.piece)
    freed = set(question.assembly.waiting[way.piece]) - set(gone) - question.off
    frees = [name for name in question.assembly.sequence if name in freed]
    wide = strip_svg(question, way=way, only=(*gone, *frees), address=address)
    narrow = strip_rails_svg(
        question,
        gone,
        ties=needed(ties_of(question), gone),
        aim=way.piece,
        address=address,
        title=f"The way to {question.removals[way.piece].name}",
    )
    return wide, narrow
