"""A drawing as a file: SVG becomes PNG or PDF through the setter of the dossier."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Literal

import typst

_PAGE = """#set page(width: auto, height: auto, margin: 10pt, fill: white)
#image("drawing.svg")
"""
PNG_PPI = 144.0


def svg_as(svg: str, form: Literal["png", "pdf"]) -> bytes:
    """Drawing in its own size, one SVG unit a point; PNG at two dots a unit."""
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        root = Path(scratch)
        (root / "drawing.svg").write_text(svg, encoding="utf-8")
        (root / "page.typ").write_text(_PAGE, encoding="utf-8")
        made = typst.compile(
            root / "page.typ", root=root, format=form, ppi=PNG_PPI, ignore_system_fonts=True
        )
    assert isinstance(made, bytes), "one page gives one file"
    return made
