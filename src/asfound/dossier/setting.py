"""Setting: data, drawings and attachments become a PDF/A-3b."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from importlib import resources
from pathlib import Path
from typing import Any

import typst

from asfound.dossier.files import Attached

_TEMPLATE = "template"
_MAIN, _DATA = "dossier.typ", "dossier-data.json"
_ASCII = 0x7F
_FAR = 0x2E80  # from here on: ideographs, their marks, and pictures


class SettingError(RuntimeError):
    """The template did not set without a warning: a fault of the program, not of the car."""


def set_pdf(
    data: Mapping[str, Any],
    *,
    figures: Mapping[str, str],
    attached: tuple[Attached, ...],
    made_on: date,
    pictures: Mapping[str, bytes] | None = None,
    main: str = _MAIN,
) -> bytes:
    """PDF/A-3b of the account; the same input gives the same bytes.

    ``main`` names the template that sets it: the whole dossier, or a report of its own.

    A sign that the faces lack stands as its code point, ``[U+9DB4]``, and the account says so;
    the attached tables hold it as it is.

    Raises
    ------
    SettingError
        If the template warns; a missing face is only a warning to the setter.
    """
    lacking: set[str] = set()
    while True:
        content = json.dumps({**data, "spelled": bool(lacking)}, ensure_ascii=False)
        told = {_DATA: _spell(content, lacking)}
        told |= {name: _spell(svg, lacking) for name, svg in figures.items()}
        try:
            return _compile(main, told, pictures or {}, attached=attached, made_on=made_on)
        except typst.TypstError as error:
            more = _lacking(error, told)
            if not more:
                raise
            lacking |= more


def _compile(
    main: str,
    told: Mapping[str, str],
    pictures: Mapping[str, bytes],
    *,
    attached: tuple[Attached, ...],
    made_on: date,
) -> bytes:
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        root = Path(scratch)
        _lay_out(root, told, attached)
        for name, data in pictures.items():
            (root / name).write_bytes(data)
        pdf, warnings = typst.compile_with_warnings(
            root / main,
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


def _lacking(error: Exception, told: Mapping[str, str]) -> set[str]:
    """Signs that the setter could not show; with one of the far planes, all of those."""
    shown = re.search(r'the text `?"(.+?)"`? could not be displayed', str(error), re.DOTALL)
    if shown is None:
        return set()
    found = {sign for sign in shown.group(1) if ord(sign) > _ASCII}
    if any(ord(sign) >= _FAR for sign in found):
        found |= {sign for text in told.values() for sign in text if ord(sign) >= _FAR}
    return {sign for sign in found if any(sign in text for text in told.values())}


def _spell(text: str, lacking: set[str]) -> str:
    return text.translate({ord(sign): f"[U+{ord(sign):04X}]" for sign in lacking})


def _lay_out(root: Path, told: Mapping[str, str], attached: tuple[Attached, ...]) -> None:
    for part in resources.files("asfound.dossier").joinpath(_TEMPLATE).iterdir():
        (root / part.name).write_bytes(part.read_bytes())
    for name, text in told.items():
        (root / name).write_text(text, encoding="utf-8")
    # The name inside the PDF is the path from the main file: no folder, or the sums do not check.
    for file in attached:
        (root / file.name).write_bytes(file.data)
