"""Setting labels: a code, the tag to type, the name."""

from __future__ import annotations

import io
import json
import tempfile
from collections.abc import Sequence
from importlib import resources
from pathlib import Path
from typing import Any

import segno
import typst

from asfound.base import InputError
from asfound.dossier.labels.paper import Label, Paper
from asfound.dossier.setting import SettingError

_MAIN = "labels.typ"
_EDGE_MM = 2.0
"""Left free along the label's edge: no printer and no hand is straight."""


def labels_pdf(labels: Sequence[Label], *, paper: Paper, first: int = 0) -> bytes:
    """PDF of the labels on the paper.

    Parameters
    ----------
    labels : sequence of Label, length n ≥ 1
    paper : Paper
    first : int
        Labels of the first sheet that are used already, from 0; they stay empty.

    Raises
    ------
    InputError
        If there is no label, or ``first`` is not on the sheet.
    SettingError
        If the typesetter warns, which is a fault of the program.

    Notes
    -----
    The code is a QR code (ISO/IEC 18004) with error correction M, so that a scratch of a seventh
    of it does no harm, and its quiet zone of four modules.
    """
    if not labels:
        raise InputError(field="labels", got=0, allowed="one or more")
    if not 0 <= first < paper.a_page:
        raise InputError(field="first", got=first, allowed=f"0 to {paper.a_page - 1}")
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        root = Path(scratch)
        template = resources.files("asfound.dossier").joinpath("template", _MAIN)
        (root / _MAIN).write_bytes(template.read_bytes())
        (root / "labels.json").write_text(json.dumps(_told(labels, paper, first, root)))
        pdf, warnings = typst.compile_with_warnings(
            root / _MAIN, root=root, ignore_system_fonts=True, format="pdf"
        )
    if warnings:
        raise SettingError("; ".join(warning.message for warning in warnings))
    assert isinstance(pdf, bytes), "one document gives one file"
    return pdf


def _told(labels: Sequence[Label], paper: Paper, first: int, root: Path) -> dict[str, Any]:
    pages: dict[int, list[dict[str, Any]]] = {}
    for number, label in enumerate(labels, start=first):
        page, place = divmod(number, paper.a_page)
        x_mm, y_mm = paper.place_mm(place)
        code = f"code-{number}.svg"
        (root / code).write_bytes(code_svg(label.address))
        pages.setdefault(page, []).append(
            {
                "x": x_mm,
                "y": y_mm,
                "code": code,
                "tag": label.tag,
                "name": label.name,
                "detail": label.detail,
            }
        )
    return {
        "page": paper.page_mm,
        "label": (paper.width_mm, paper.height_mm),
        "edge": _EDGE_MM,
        "pages": list(pages.values()),
    }


def code_svg(text: str) -> bytes:
    """QR code of the text as SVG; never the small variant, which many phones cannot read."""
    out = io.BytesIO()
    segno.make_qr(text, error="m").save(out, kind="svg", border=4, xmldecl=False)
    return out.getvalue()
