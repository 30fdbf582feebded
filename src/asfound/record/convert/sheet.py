"""Panels drawn from tape measurements become the rows of ``panels.csv``."""

from __future__ import annotations

from asfound.measure.sheet import SheetPanel
from asfound.record.folder import Sheet

_COLUMNS = ("panel", "section", "substrate", "outline_wkt", "view", "placement")


def panels_sheet(panels: tuple[SheetPanel, ...]) -> Sheet:
    """Table of panels, each where it lies on the unfolded sheet."""
    return Sheet(
        columns=_COLUMNS,
        rows=tuple(
            (p.panel, p.section, p.substrate, p.outline_wkt, p.view, p.placement_text)
            for p in panels
        ),
    )
