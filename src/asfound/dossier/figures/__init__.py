"""Figures as SVG, for pages and for print.

They bear no ``style`` attribute, so that a page may forbid inline styles; the same input gives
the same bytes.
"""

from asfound.dossier.figures.balance import balance_svg, lean_svg
from asfound.dossier.figures.edge import edge_svg
from asfound.dossier.figures.finding_marks import Numbered, numbered
from asfound.dossier.figures.findings import (
    findings_sheet_svg,
    findings_svg,
    photo_findings_svg,
)
from asfound.dossier.figures.front import front_svg
from asfound.dossier.figures.ledger_line import ledger_line_svg
from asfound.dossier.figures.metal import metal_svg
from asfound.dossier.figures.palette import Theme
from asfound.dossier.figures.panel import panel_svg
from asfound.dossier.figures.photo_marks import marks_svg
from asfound.dossier.figures.salvage import PieceDrawing, salvage_svg
from asfound.dossier.figures.seams import seams_svg
from asfound.dossier.figures.shares import shares_svg
from asfound.dossier.figures.sheet import sheet_svg
from asfound.dossier.figures.strata import Strata, strata
from asfound.dossier.figures.swatch import swatch_svg
from asfound.dossier.figures.timeline import timeline_parts, timeline_svg
from asfound.dossier.figures.wedge import wedge_svg

__all__ = [
    "Numbered",
    "PieceDrawing",
    "Strata",
    "Theme",
    "balance_svg",
    "edge_svg",
    "findings_sheet_svg",
    "findings_svg",
    "front_svg",
    "lean_svg",
    "ledger_line_svg",
    "marks_svg",
    "metal_svg",
    "numbered",
    "panel_svg",
    "photo_findings_svg",
    "salvage_svg",
    "seams_svg",
    "shares_svg",
    "sheet_svg",
    "shown",
    "strata",
    "swatch_svg",
    "timeline_parts",
    "timeline_svg",
    "wedge_svg",
]
