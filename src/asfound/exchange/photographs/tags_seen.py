"""Tags on labels that a photograph shows."""

from __future__ import annotations

import io
from pathlib import Path

import zxingcpp
from PIL import Image

from asfound.exchange.photographs.shown import shown
from asfound.record.actions import plain_tag

_QR = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
_LOOKED_AT_PX = 1_600


def tags_in(path: Path) -> tuple[str, ...]:
    """Tags of the QR codes in the photograph, each once; empty if it shows none."""
    with Image.open(io.BytesIO(shown(path, longest_px=_LOOKED_AT_PX))) as image:
        found = zxingcpp.read_barcodes(image, formats=_QR)
    return tuple(dict.fromkeys(plain_tag(code.text) for code in found if code.text.strip()))
