"""Setting: data, drawings and attachments become a PDF/A-3b."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from importlib import resources
from pathlib import Path
from typing import Any

import typst

from asfound.dossier.files import Attached

_TEMPLATE = "template"
_MAIN = "dossier.typ"


class SettingError(RuntimeError):
    """The template did not set without a warning: a fault of the program, not of the car."""


def set_pdf(
    data: Mapping[str, Any],
    *,
    figures: Mapping[str, str],
    attached: tuple[Attached, ...],
    made_on: date,
) -> bytes:
    """PDF/A-3b of the account; the same input gives the same bytes.

    Raises
    ------
    SettingError
        If the template warns; a missing face is only a warning to the setter.
    """
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        root = Path(scratch)
        _lay_out(root, data, figures, attached)
        pdf, warnings = typst.compile_with_warnings(
            root / _MAIN,
            root=root,
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards=["a-3b"],
            timestamp=datetime.combine(made_on, time(), tzinfo=UTC),
        )
    if warnings:
        raise SettingError("; ".join(warning.message for warning in warnings))
    assert isinstance(pdf, bytes), "one document gives one file"
    return pdf


def _lay_out(
    root: Path, data: Mapping[str, Any], figures: Mapping[str, str], attached: tuple[Attached, ...]
) -> None:
    for part in resources.files("asfound.dossier").joinpath(_TEMPLATE).iterdir():
        (root / part.name).write_bytes(part.read_bytes())
    for name, svg in figures.items():
        (root / name).write_text(svg, encoding="utf-8")
    # The name inside the PDF is the path from the main file: no folder, or the sums do not check.
    for file in attached:
        (root / file.name).write_bytes(file.data)
    (root / "dossier-data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
