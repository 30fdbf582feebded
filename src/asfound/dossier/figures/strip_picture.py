"""What comes off before what as one picture to keep or print, whatever the size of the car."""

from __future__ import annotations

from asfound.dossier.figures.strip_bands import by_group
from asfound.dossier.figures.strip_layers import needed
from asfound.dossier.figures.strip_order import strip_svg
from asfound.dossier.figures.strip_piece import Address, ties_needed, ties_of
from asfound.dossier.figures.strip_rails import strip_rails_svg
from asfound.dossier.figures.strip_sheet import strip_sheet_svg
from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion

NAMES_AT_ONCE = 60
"""A car with more pieces is drawn assembly by assembly."""


def strip_picture_svg(
    question: StripQuestion, *, way: Way | None = None, in_whole: bool = False
) -> str:
    """The way to a piece, or the whole car with every assembly open, in its own colours.

    Parameters
    ----------
    question : StripQuestion
    way : Way or None
    in_whole : bool
        Whether the whole car is drawn, the way lit in it.
    """
    if way is not None and not in_whole:
        return strip_svg(question, way=way, only=(*way.first_off, way.piece), theme="print")
    if len(question.assembly.pieces) <= NAMES_AT_ONCE:
        return strip_svg(question, way=way, theme="print")
    return strip_sheet_svg(question, is_open=lambda group: True, way=way, theme="print")


def strip_sheets(question: StripQuestion) -> tuple[str, list[tuple[str, str]]]:
    """For paper: all assemblies by wave, folded; and each with its name as rails."""
    ties = ties_needed(question)
    return strip_sheet_svg(question, is_open=lambda group: False, theme="print"), [
        (
            name,
            strip_rails_svg(
                question, pieces, ties=ties, theme="print", title=f"{name}: what comes off first"
            ),
        )
        for name, pieces in by_group(question, question.left).items()
        if pieces
    ]


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
